-- What helps most, as the learner found it last. No event makes this row; lost, it is made again.

create table if not exists learned_help (
    one     integer primary key check (one = 1),
    form    integer not null,                  -- of the content
    seq     integer not null,                  -- newest entry that was known
    hash    text not null,                     -- that entry's hash
    fit_seq integer not null,                  -- newest entry that what was learned knew
    made_at text not null,                     -- from this instant on open hours are counted
    content text not null,                     -- JSON: what each act is worth
    told    text not null                      -- JSON: every job's finish before and after the best
) strict;
