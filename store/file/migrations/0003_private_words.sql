-- Words about people outside the shop that the ledger only points at: erased with the customer.

create table if not exists private_word (
    word     text primary key,                 -- 'w-...', as the ledger has it
    customer text not null,
    text     text not null
) strict;
create index if not exists private_word_of on private_word (customer);
