-- The clinic, its people, rooms, sessions and policy.
create table clinic (
    id uuid primary key,
    name varchar not null,
    time_zone varchar not null,
    created_at timestamp with time zone not null
);

create table practitioner (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    dominant_hand varchar check (dominant_hand in ('right', 'left')),
    methods varchar not null,
    active boolean not null,
    constraint practitioner_name_once unique (clinic_id, name)
);

create table room (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    active boolean not null,
    constraint room_name_once unique (clinic_id, name)
);

create table weekly_session (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    practitioner_id uuid not null references practitioner (id),
    room_id uuid not null references room (id),
    day_of_week integer not null check (day_of_week between 1 and 7),
    starts time not null,
    ends time not null,
    break_starts time,
    break_ends time,
    valid_from date not null,
    valid_to date,
    constraint weekly_session_in_order check (starts < ends),
    constraint weekly_session_break_whole check ((break_starts is null) = (break_ends is null)),
    constraint weekly_session_break_inside check (break_starts is null or (starts <= break_starts and break_starts < break_ends and break_ends <= ends))
);
create index weekly_session_by_clinic on weekly_session (clinic_id, day_of_week);

-- Closed: no session of that practitioner (or of anyone, where none is named) on that day. Extra: one more session.
create table session_exception (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    exception_date date not null,
    kind varchar not null check (kind in ('closed', 'extra')),
    practitioner_id uuid references practitioner (id),
    room_id uuid references room (id),
    starts time,
    ends time,
    break_starts time,
    break_ends time,
    reason varchar not null,
    constraint session_exception_extra_whole check (kind = 'closed' or (practitioner_id is not null and room_id is not null and starts is not null and ends is not null and starts < ends))
);
create index session_exception_by_day on session_exception (clinic_id, exception_date);

create table policy (
    clinic_id uuid primary key references clinic (id),
    grid_minutes integer not null check (grid_minutes in (1, 5, 10, 15)),
    accepted_overrun_share double precision not null check (accepted_overrun_share > 0 and accepted_overrun_share < 1),
    accepted_overtime_share double precision not null check (accepted_overtime_share > 0 and accepted_overtime_share < 1),
    least_slot_minutes integer not null check (least_slot_minutes between 5 and 180),
    most_slot_minutes integer not null check (most_slot_minutes between 5 and 180),
    wait_limit_minutes integer not null check (wait_limit_minutes between 0 and 180),
    early_allowance_minutes integer not null check (early_allowance_minutes between 0 and 60),
    irrigation_turnaround_minutes integer not null check (irrigation_turnaround_minutes between 0 and 60),
    microsuction_turnaround_minutes integer not null check (microsuction_turnaround_minutes between 0 and 60),
    manual_removal_turnaround_minutes integer not null check (manual_removal_turnaround_minutes between 0 and 60),
    version integer not null,
    constraint policy_slots_in_order check (least_slot_minutes <= most_slot_minutes)
);

create table other_visit_kind (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    minutes integer not null check (minutes between 1 and 180),
    active boolean not null,
    constraint other_visit_kind_name_once unique (clinic_id, name)
);
