-- What was learned from the ledger. No event makes these rows: a learner in a process of its own
-- does, from the whole ledger, and can make them anew at any time. Lost ones are made again.

create table if not exists learned_part (
    part    text primary key,                  -- 'labour', 'dates' ...
    version text not null,                     -- of the learner; another one learns anew
    seq     integer not null,                  -- newest entry that it knows
    hash    text not null,                     -- that entry's hash
    cases   integer not null,                  -- how many taught it
    digest  text not null,                     -- SHA-256 of them: the same ones teach nothing new
    content blob not null
) strict;

create table if not exists learned_forecast (  -- one row for each job that goes on
    job      text primary key,
    form     integer not null,                 -- of the content
    seq      integer not null,                 -- newest entry that was known
    fit_seq  integer not null,                 -- newest entry that what was learned knew
    made_at  text not null,                    -- from this instant on open hours are counted
    labour_h real not null,                    -- labour in the job then
    content  text not null                     -- JSON: what is left, phase by phase and together
) strict;

create table if not exists learned_turn (
    one  integer primary key check (one = 1),
    turn integer not null,                     -- raised by each writing: screens look again
    seq  integer not null,                     -- jobs of entries up to here have their forecast
    hash text not null                         -- that entry's hash
) strict;
