-- What is never derived and never rebuilt: the ledger itself, and what must stay outside it.

create table ledger (
    seq          integer primary key,          -- 1, 2, 3 ... without a gap
    key          text not null unique,         -- made before the first try; a second try is harmless
    happened_at  text not null,                -- when it was so (late entries lie before recorded_at)
    recorded_at  text not null,                -- when it was written; never falls
    badge        text not null,                -- who
    terminal     text not null,                -- where
    kind         text not null,
    payload      text not null,                -- canonical JSON, checked by a model for each kind
    stepped_back integer not null,             -- seconds by which the machine's clock had stepped back
    previous     text not null,                -- hash of the event before, 64 zeros at first
    hash         text not null
) strict;

-- Also stops "insert or replace", which deletes without asking the trigger on delete.
create trigger ledger_grows_at_its_end before insert on ledger
when new.seq is not (select coalesce(max(seq), 0) + 1 from ledger)
  or exists (select 1 from ledger where key = new.key)
begin select raise(abort, 'the ledger grows at its end only, each key once'); end;

create trigger ledger_is_never_edited before update on ledger
begin select raise(abort, 'the ledger is never edited: a correction is an event'); end;

create trigger ledger_is_never_shortened before delete on ledger
begin select raise(abort, 'the ledger is never shortened'); end;

-- People outside the shop: the ledger knows them by a random id only, so they can be erased.
create table customer_private (
    customer  text primary key,
    name      text not null,
    telephone text not null
) strict;

-- PINs: the ledger holds only the SHA-256 of this row's content, so that it can be checked.
create table pin_private (
    person text primary key,
    n      integer not null,
    r      integer not null,
    p      integer not null,
    salt   text not null,
    hash   text not null
) strict;

-- Wrong PINs lately, for throttling; says nothing that needs to last.
create table pin_tries (
    person  text primary key,
    wrong   integer not null,
    last_at text not null
) strict;

-- The demo shop's own clock: the shop's instant at the machine's instant of last use.
create table demo_clock (
    one        integer primary key check (one = 1),
    machine_at text not null,
    shop_at    text not null
) strict;
