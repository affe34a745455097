-- Entries of a kind, of all the years, without reading all others.

create index if not exists ledger_kind on ledger (kind);
