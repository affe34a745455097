-- Derived tables: the ledger replayed gives exactly these rows. Instants are UTC, fixed width.

create table shop (
    one        integer primary key check (one = 1),
    shop       text not null,                  -- the shop's own id
    name       text not null,
    zone       text not null,
    currency   text not null,
    demo       text                            -- JSON of seed and months; null in a real shop
) strict;

create table setting (
    name  text primary key,
    value text not null                        -- JSON
) strict;

create table calendar (
    from_day text primary key,                 -- local date; holds until the next row
    plan     text not null                     -- JSON: shifts, breaks
) strict, without rowid;

create table holiday (
    day  text primary key,
    name text not null
) strict, without rowid;

create table rate (
    from_day text primary key,
    per_hour real not null                     -- money for an hour of labour
) strict, without rowid;

create table month_cost (                     -- of each month the newest row stands
    seq       integer primary key,
    month     text not null,
    wages     real not null,
    overheads real not null
) strict;
create index month_cost_month on month_cost (month);

create table person (
    person     text primary key,
    badge      text not null unique,
    name       text not null,
    role       text not null check (role in ('technician', 'foreman', 'owner')),
    experience text not null,                  -- 'apprentice 1' to 'apprentice 4', 'skilled', 'expert'
    from_day   text not null,
    until_day  text,
    pin_check  text,                           -- SHA-256 of the row in pin_private
    pin_seq    integer
) strict, without rowid;

create table person_since (                    -- what a person was from a day on
    person     text not null references person,
    from_day   text not null,
    role       text not null,
    experience text not null,
    primary key (person, from_day)
) strict, without rowid;

create table qualification (
    person text not null references person,
    what   text not null,
    until  text not null,                      -- last day on which it holds
    primary key (person, what)
) strict, without rowid;

create table absence (
    person text not null references person,
    since  text not null,
    until  text not null,
    why    text not null,
    seq    integer primary key
) strict;
create index absence_of on absence (person, since);
create index absence_until on absence (until);

create table attendance (                      -- corrections of a person's day
    person text not null references person,
    day    text not null,
    hours  real not null check (hours >= 0 and hours <= 24),
    primary key (person, day)
) strict, without rowid;

create table place (
    place      text primary key,
    code       text not null unique,
    kind       text not null check (kind in ('lift', 'bench', 'stand', 'yard')),
    lift_kind  text,
    rated_kg   real,
    position   integer not null,               -- the shop's order
    in_service integer not null,
    out_reason text,
    inspected  text,                           -- date of the last inspection
    months     integer,                        -- its interval
    interval_source text,
    looked_over text                           -- local date of the last daily look-over
) strict, without rowid;

create table vehicle (
    vehicle text primary key,
    label   text not null,                     -- how people call it
    family  text not null,
    vin     text,
    plate   text,
    engine  text,
    gearbox text,
    mass_kg real
) strict, without rowid;

create index vehicle_plate on vehicle (lower(plate));
create index vehicle_vin on vehicle (lower(vin));
create index vehicle_label on vehicle (lower(label));

create table odometer (
    seq     integer primary key,
    vehicle text not null references vehicle,
    at      text not null,
    value   real not null,
    unit    text not null
) strict;
create index odometer_vehicle on odometer (vehicle);

create table customer (
    customer  text primary key,
    erased_at text
) strict, without rowid;

create table book (
    version  integer primary key,
    from_day text not null,
    loaded_at text not null,
    source   text not null,                    -- the TOML as it was written
    content  text not null                     -- canonical JSON of the same
) strict;

create table book_phase (
    version  integer not null references book,
    code     text not null,
    name     text not null,
    kind     text not null,
    place    text not null,                    -- JSON list
    after    text not null,
    class    text not null,
    cautions text not null,                    -- JSON list
    needs    text not null,                    -- JSON list of qualifications
    opens    text not null,                    -- JSON list of open conditions
    closes   text not null,
    primary key (version, code)
) strict, without rowid;

create table book_step (                       -- steps of the book, by phase and code
    version integer not null,
    phase   text not null,                     -- phase code
    code    text not null,
    kind    text not null,
    spec    text not null,                     -- JSON of the whole step
    primary key (version, phase, code)
) strict, without rowid;

create table book_condition (
    version integer not null references book,
    code    text not null,
    text    text not null,
    forbids text not null,                     -- JSON list of deeds
    primary key (version, code)
) strict, without rowid;

create table job (
    job        text primary key,               -- its number
    number     integer not null,
    vehicle    text not null references vehicle,
    customer   text references customer,
    state      text not null,
    small      integer not null,
    work       text not null,                  -- a small job's text, or the operations' names
    operations text not null,                  -- JSON list of codes
    family     text not null,
    options    text not null,                  -- JSON object
    grade      integer not null,
    version    integer references book,        -- the work book it was taken with; null if small
    complaint  text,
    opened_at  text not null,
    opened_seq integer not null,
    agreed_seq integer,                        -- its estimate, frozen
    basis      text,                           -- 'fixed price', 'ceiling', 'time'
    ceiling    real,
    promise    text,
    promise_chance real,                       -- the chance it was given at, where one was chosen
    in_at      text,                           -- on a lift since
    queue_at   text,                           -- waiting since
    in_line    real not null,                  -- order of coming in: POSIX seconds, or as put since
    finished_at text,
    closed_at  text,
    not_teaching text,
    arrives    text,                           -- local date on which it is to come
    arrived_at text,
    check_result text,                         -- of the qualifying check: 'pass', 'fail' ...
    check_text text,                           -- its conditions, or why it failed
    checked_at text,
    free_hand  real,                           -- money up to which extra work needs no call
    unready    text,                           -- JSON list: what lacked when it came in
    gone_seq   integer                         -- of the event by which it ended without work
) strict, without rowid;
create index job_live on job (state) where state not in ('closed', 'declined', 'turned-away');
create index job_vehicle on job (vehicle);
create index job_number on job (number);
create index job_closed on job (closed_at) where state = 'closed';
create index job_gone on job (gone_seq) where state in ('declined', 'turned-away');

create table job_place (                       -- where its body and its unit are
    job   text not null references job,
    part  text not null check (part in ('body', 'unit')),
    place text not null references place,
    since text not null,
    primary key (job, part)
) strict, without rowid;
create index job_place_at on job_place (place);

create table stay (                            -- where they were, piece by piece
    seq   integer primary key,
    job   text not null references job,
    part  text not null,
    place text not null references place,
    since text not null,
    until text
) strict;
create index stay_job on stay (job);
create index stay_place on stay (place, part, until);

create table phase (
    job        text not null references job,
    phase      text not null,                  -- its number: '1', '3b'; never used again
    position   real not null,                  -- order in the route
    code       text not null,
    version    integer,                        -- of the work book; null in a small job
    name       text not null,
    kind       text not null check (kind in ('labour', 'standing', 'outwork')),
    class      text not null,
    after      text not null,
    state      text not null check (state in ('to come', 'under way', 'finished', 'skipped')),
    low_h      real not null,
    book_h     real not null,
    high_h     real not null,
    estimate_middle_h   real not null,
    estimate_cautious_h real not null,
    estimate_mean_h     real not null,
    serves     text not null,                  -- JSON list of operations
    kits       text not null,                  -- JSON list
    begun_at   text,
    finished_at text,
    note       text,                           -- why skipped, why it took longer
    cut_off    integer not null default 0,     -- ended unfinished by a change of route
    not_teaching text,
    primary key (job, phase)
) strict, without rowid;
create index phase_finished on phase (finished_at);

create table step (
    job      text not null,
    phase    text not null,
    step     text not null,
    position real not null,
    code     text not null,
    kind     text not null check (kind in ('step', 'hold point', 'decision')),
    signs    integer not null,
    void_on_lift integer not null,
    blocks   text not null,                    -- JSON list, as called in this route
    state    text not null check (state in ('open', 'half', 'out', 'done', 'gone')),
    primary key (job, phase, step),
    foreign key (job, phase) references phase
) strict, without rowid;
create index step_half on step (job, phase, step) where state = 'half';

create table step_limit (                      -- limits typed for one job, with their source
    job     text not null,
    phase   text not null,
    step    text not null,
    reading text not null,
    low     real,
    high    real,
    source  text not null,
    primary key (job, phase, step, reading),
    foreign key (job, phase, step) references step
) strict, without rowid;

create table signature (
    seq      integer primary key,
    job      text not null,
    phase    text not null,
    step     text not null,
    person   text not null references person,
    at       text not null,
    readings text not null,                    -- JSON object: position to value
    answer   text,
    in_limits integer not null,
    faults   text not null,                    -- JSON list, in words
    as_is    text,                             -- a foreman's reason for letting it stand
    as_is_by text references person,
    as_is_at text,
    void     integer not null default 0,
    void_at  text,                             -- cover opened again, raised anew, taken back
    foreign key (job, phase) references phase  -- the step itself may leave the route again
) strict;
create index signature_of on signature (job, phase, step);

create table condition (                       -- open conditions that the vehicle carries now
    job       text not null references job,
    code      text not null,
    since     text not null,
    seq       integer not null,
    primary key (job, code)
) strict, without rowid;

create table clock (
    seq       integer primary key,             -- of the event that started it
    person    text not null references person,
    job       text,
    phase     text,
    reason    text,                            -- of indirect time; 'away' when called away
    part      text not null check (part in ('lead', 'helper', 'learner')),
    since     text not null,
    until     text,
    breaks_worked integer not null default 0,
    confirmed integer not null default 0,
    away_from integer,                         -- clock that was interrupted
    stopped_seq integer,
    check ((job is null) = (phase is null)),
    check ((job is null) != (reason is null)),
    check (until is null or until >= since),
    foreign key (job, phase) references phase
) strict;
create unique index clock_one_running on clock (person) where until is null;
create index clock_phase on clock (job, phase);
create index clock_person on clock (person, since);

create table hold (
    seq       integer primary key,
    job       text not null references job,
    phase     text,
    reason    text not null,
    since     text not null,
    until     text,                            -- released at
    expected  text,                            -- as first said
    expected_now text,
    next_move text,
    text      text,
    foreign key (job, phase) references phase
) strict;
create index hold_running on hold (job) where until is null;
create index hold_job on hold (job);

create table finding (
    seq   integer primary key,
    job   text not null,
    phase text not null,
    kind  text not null check (kind in ('surprise', 'route ends', 'advice')),
    text  text not null,
    hours real,
    code  text,                                -- of the book's surprise, where it is one
    by    text not null references person,
    at    text not null,
    withdrawn integer not null default 0,
    foreign key (job, phase) references phase
) strict;
create index finding_job on finding (job);

create table note (                            -- what is to be remembered of a job
    seq   integer primary key,
    job   text not null references job,
    by    text not null references person,
    at    text not null,
    text  text not null,
    withdrawn integer not null default 0
) strict;
create index note_job on note (job);

create table supplement (
    job      text not null references job,
    line     integer not null,
    phase    text,
    text     text not null,
    hours    real not null,
    money    real,
    state    text not null check (state in ('asked', 'approved', 'refused', 'withdrawn')),
    asked_at text not null,
    asked_by text not null references person,
    finding  integer,
    answered_at text,
    answered_by text,                          -- who gave the word, as it was typed
    means    text,
    primary key (job, line)
) strict, without rowid;

create table estimate (                        -- as agreed, frozen; one row for each agreement
    seq      integer primary key,
    job      text not null references job,
    at       text not null,
    basis    text not null,
    ceiling  real,
    money    real,
    source   text not null,                    -- 'book' or what was learned
    content  text not null,                    -- JSON: for phases and total 19 quantiles and mean
    by       text,                             -- who agreed: a word, or one kept outside the ledger
    means    text,
    quote    integer,                          -- which quote was agreed to
    more     text not null                     -- JSON: left_out, ahead
) strict;
create index estimate_job on estimate (job);

create table estimate_change (                 -- hours of the whole job from then on
    seq      integer primary key,
    job      text not null references job,
    at       text not null,
    middle_h real not null,
    cautious_h real not null,
    cause    text not null
) strict;
create index estimate_change_job on estimate_change (job);

create table promised (
    seq    integer primary key,
    job    text not null references job,
    at     text not null,
    promise text,
    chance real
) strict;
create index promised_job on promised (job);

create table day_confirmed (
    person text not null references person,
    day    text not null,
    at     text not null,
    by     text not null references person,
    primary key (person, day)
) strict, without rowid;

create table past_phase (                      -- finished phases of jobs done before this file
    job        text not null,                  -- as it was called there: no job of this file
    seq        integer not null,               -- order in its job
    template   text not null,                  -- operation, or operations joined with '+'
    variant    text not null,                  -- family
    phase      text not null,                  -- its code
    technician text not null,
    started    text not null,
    closed     text not null,
    book_h     real not null,
    actual_h   real not null,
    grade      integer,
    class      text,
    people     integer,
    lumped_with integer,                       -- seq of its neighbour
    cut_off    integer not null,
    serves     text not null,                  -- JSON list of operations
    surprise_h real,
    imported   integer not null,               -- the event that brought it
    primary key (job, seq)
) strict, without rowid;

create table kit (
    kit   text primary key,
    code  text not null unique,
    name  text not null,
    owned integer not null
) strict, without rowid;

-- Before a job goes on a lift ----------------------------------------------------------------

create table booking (
    seq     integer primary key,
    job     text not null references job,
    at      text not null,
    day     text not null,                     -- on which it is to come
    note    text,
    deposit real
) strict;
create index booking_job on booking (job);

create table arrival (
    seq    integer primary key,
    job    text not null references job,
    at     text not null,
    lamps  text,                               -- warning lamps, faults stored
    photographs text
) strict;
create index arrival_job on arrival (job);

create table quote (
    job     text not null references job,
    quote   integer not null,
    seq     integer not null,
    at      text not null,
    by      text not null references person,
    rough   integer not null,
    ways    text not null,                     -- JSON: the ways it may go, with hours and money
    extras  text not null,                     -- JSON: neighbouring work offered with it
    basis   text,
    ceiling real,
    promise text,
    means   text,
    until   text,                              -- last day on which it holds
    state   text not null check (state in
            ('open', 'agreed', 'declined', 'thinking', 'withdrawn', 'followed')),
    answered_at text,
    why     text,
    answered_by text,
    answer_means text,
    primary key (job, quote)
) strict, without rowid;

create table call (                            -- attempts to reach the customer
    seq     integer primary key,
    job     text not null references job,
    at      text not null,
    by      text not null references person,
    means   text not null,
    reached integer not null,
    text    text,
    again   text,
    withdrawn integer not null default 0
) strict;
create index call_job on call (job);

create table ceiling_set (
    seq     integer primary key,
    job     text not null references job,
    at      text not null,
    ceiling real not null,
    by      text not null,
    means   text not null,
    before  real,                              -- the ceiling until then
    withdrawn integer not null default 0
) strict;
create index ceiling_set_job on ceiling_set (job);

create table comeback (
    job    text primary key references job,
    of     text not null,                      -- the job it comes back from
    phase  text,
    cause  text not null,
    fault  text not null check (fault in ('ours', 'not ours', 'not known yet')),
    pays   text not null check (pays in ('shop', 'customer', 'supplier')),
    at     text not null
) strict, without rowid;
create index comeback_of on comeback (of);

-- Getting ready ----------------------------------------------------------------------------

create table part (
    job      text not null references job,
    line     integer not null,
    text     text not null,
    phase    text,                             -- for which it must be here
    renewed  integer not null,                 -- the work book renews it every time
    state    text not null check (state in
             ('wanted', 'ordered', 'here', 'wrong', 'returned', 'fitted', 'not needed')),
    expected text,
    supplier text,
    batch    text,
    note     text,
    price    real,
    moved_at text,
    primary key (job, line)
) strict, without rowid;

-- Special tools: who hires them out, and each hire ------------------------------------------
-- Terms, prices and dates: the newest row of each stands; earlier ones tell what was asked then.

create table supplier (
    seq       integer primary key,
    supplier  text not null,
    since     text not null,
    cut_off   text not null,                   -- local time of day
    counts    text not null,                   -- the last day paid: 'hand-over' or 'arrival'
    weekend   text not null,                   -- counted, half, free
    late      real not null,                   -- times the day rate
    lead_days integer not null,                -- working days
    back_days integer not null,                -- working days
    cleaning  real not null
) strict;
create index supplier_name on supplier (supplier);

create table offer (
    seq      integer primary key,
    kit      text not null,                    -- its code
    supplier text not null,
    since    text not null,
    day      real,                             -- null: not offered any more
    week     real,
    month    real,
    minimum_days integer not null,
    carriage real not null,                    -- each way
    deposit  real not null
) strict;
create index offer_kit on offer (kit, supplier);

create table kit_price (
    seq    integer primary key,
    kit    text not null,
    since  text not null,
    buy    real,
    upkeep real not null,                      -- a year
    life_years real not null
) strict;
create index kit_price_kit on kit_price (kit);

create table kit_date (
    seq    integer primary key,
    kit    text not null,
    at     text not null,
    valid_until text not null,                 -- local date
    source text not null
) strict;
create index kit_date_kit on kit_date (kit);

create table kit_let (
    seq   integer primary key,
    job   text not null,
    phase text not null,
    kits  text not null,                       -- JSON list of codes
    by    text not null references person,
    at    text not null,
    why   text not null,
    foreign key (job, phase) references phase
) strict;
create index kit_let_phase on kit_let (job, phase);

create table hire (
    hire     text primary key,
    kit      text not null,                    -- its code
    supplier text not null,
    job      text references job,
    asked_at text not null,
    terms    text,                             -- JSON: as agreed then; null: not known
    expected text,
    due      text,
    first_due text,                            -- as agreed at first
    received_at text,
    complete integer,                          -- on receipt, or since what lacked came
    came_complete integer,                     -- on receipt
    missing  text not null,                    -- JSON list
    wrong    integer not null,
    serial   text,
    valid_until text,                          -- local date
    sent_at  text,
    sent_complete integer,
    pieces   integer,
    clean    integer,
    damage   text,
    arrived_at text,
    deposit_at text,
    deposit_back real,
    invoiced_at text,
    invoiced real,
    late_fee real,
    extras   real,
    note     text
) strict, without rowid;
create index hire_open on hire (kit) where sent_at is null;
create index hire_job on hire (job);

create table outwork (
    seq      integer primary key,
    job      text not null,
    phase    text not null,
    what     text not null,
    firm     text not null,
    sent_at  text not null,
    promised text,                             -- as first said
    promised_now text,
    chase    text,                             -- local date on which to ask again
    price    real,                             -- as first said
    said     text,                             -- what the firm last said
    back_seq integer,                          -- of the event that brought it back
    back_at  text,
    charged  real,                             -- what it came to
    report   text,
    readings text not null,                    -- JSON object
    foreign key (job, phase) references phase
) strict;
create index outwork_job on outwork (job);
create index outwork_away on outwork (job) where back_at is null;

-- The end, and the months after --------------------------------------------------------------

create table advice (
    finding integer primary key,
    job     text not null references job,
    at      text not null,
    answer  text not null check (answer in ('declined', 'later', 'agreed')),
    risk_told integer not null,
    by      text,
    means   text,
    told_seq integer not null                  -- of the event that said so
) strict;
create index advice_job on advice (job);

create table handed_over (
    job     text primary key references job,
    at      text not null,
    by      text not null references person,
    receiver text,                             -- who took it: a word, or one kept outside
    content text not null                      -- JSON: old parts, fluids, faults, warranty ...
) strict, without rowid;

create table follow_up (
    job      text not null references job,
    line     integer not null,
    what     text not null,
    who      text not null,
    day      text,
    distance real,                             -- on the odometer, in its unit
    since    text not null,                    -- local day from which it is counted
    counted_from text not null,                -- 'hand-over', 'work', 'receipt', 'entry'
    state    text not null check (state in ('open', 'done', 'dropped', 'withdrawn')),
    outcome  text,
    done_at  text,
    done_by  text references person,
    primary key (job, line)
) strict, without rowid;
create index follow_up_open on follow_up (job) where state = 'open';

-- Who does what next -------------------------------------------------------------------------

create table assignment (                      -- a line of somebody's list of work
    seq      integer primary key,
    job      text not null references job,
    phase    text,                             -- null: the whole job
    person   text not null references person,
    position real not null,                    -- order in the person's list
    by       text not null references person,  -- who gave it
    since    text not null,
    until    text,                             -- moved, given to somebody else, taken away
    ended_seq integer                          -- of the event that ended it
) strict;
create unique index assignment_once on assignment (person, job, coalesce(phase, ''))
    where until is null;
create index assignment_job on assignment (job) where until is null;
create index assignment_ended on assignment (ended_seq);

create table line_move (                       -- places in the line that waits, as somebody put them
    seq    integer primary key,
    job    text not null references job,
    before text,                               -- null: after all others
    was    real not null,                      -- where it stood before that
    by     text not null references person,
    at     text not null
) strict;

create table entry (                           -- one act of one person: the unit of undoing
    seq    integer primary key,                -- its first event
    last   integer not null,                   -- its last event
    person text,
    job    text,
    undone integer not null default 0
) strict;
create index entry_person on entry (person);
create index entry_job on entry (job);
