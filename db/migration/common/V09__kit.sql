-- Portable and fixed equipment, instrument sets and their cycles, single-use stock.

-- A unit without a room is movable; one without a method only helps.
create table kit_unit (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    method varchar check (method in ('irrigation', 'microsuction', 'manual_removal')),
    room_id uuid references room (id),
    active boolean not null,
    version integer default 0 not null,
    constraint kit_unit_name_once unique (clinic_id, name)
);

create table instrument_kind (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    cycle_minutes integer not null check (cycle_minutes between 1 and 240),
    test_minutes integer not null check (test_minutes between 0 and 120),
    active boolean not null,
    constraint instrument_kind_name_once unique (clinic_id, name)
);

create table instrument_set (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    kind_id uuid not null references instrument_kind (id),
    number integer not null check (number between 1 and 99),
    state varchar not null check (state in ('clean', 'in_use', 'dirty', 'in_cycle')),
    cycle_number varchar,
    since timestamp with time zone not null,
    active boolean not null,
    version integer not null,
    constraint instrument_set_number_once unique (kind_id, number)
);

-- Each cycle that a set went through, with its result; a failed cycle retains its number.
create table set_cycle (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    set_id uuid not null references instrument_set (id),
    cycle_number varchar not null,
    started_at timestamp with time zone not null,
    ended_at timestamp with time zone,
    passed boolean,
    constraint set_cycle_ended_whole check ((ended_at is null) = (passed is null))
);
create index set_cycle_by_number on set_cycle (clinic_id, cycle_number);
create index set_cycle_by_set on set_cycle (set_id, started_at);

-- Which set, out of which cycle, was used at which appointment.
create table set_use (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    set_id uuid not null references instrument_set (id),
    appointment_id uuid not null references appointment (id),
    cycle_number varchar,
    who varchar not null,
    at timestamp with time zone not null
);
create index set_use_by_appointment on set_use (clinic_id, appointment_id);
create index set_use_by_cycle on set_use (clinic_id, cycle_number);

-- Single-use stock; fewer than the least is short.
create table stock_item (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    least integer not null check (least between 0 and 9999),
    counted integer check (counted between 0 and 9999),
    counted_at timestamp with time zone,
    counted_by varchar,
    constraint stock_item_name_once unique (clinic_id, name)
);
