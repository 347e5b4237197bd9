-- Each cycle that a set went through, with its result: a failed cycle keeps its number.
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
insert into set_cycle (id, clinic_id, set_id, cycle_number, started_at, ended_at, passed)
    select id, clinic_id, id, cycle_number, since,
        case when state = 'in_cycle' then null else since end,
        case when state = 'in_cycle' then null else true end
    from instrument_set where cycle_number is not null;
