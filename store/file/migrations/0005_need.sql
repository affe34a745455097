-- When jobs that go on will need which kit, in draws of the same dice. No event makes these rows;
-- lost, they are made again.

create table if not exists learned_need (
    job     text not null,
    kit     text not null,                     -- its code
    form    integer not null,                  -- of the content
    seq     integer not null,                  -- newest entry that was known
    fit_seq integer not null,                  -- newest entry that what was learned knew
    made_at text not null,                     -- from this instant on open hours are counted
    content text not null,                     -- JSON: phases, and the draws
    primary key (job, kit)
) strict;
