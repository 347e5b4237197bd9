-- A clinic, its people, rooms and sessions, and its policy.

-- The demo mark is of the invented clinic, whose passwords and key everyone may know.
-- The number given last to a patient who came without one is counted under the lock of this row.
create table clinic (
    id uuid primary key,
    name varchar not null,
    time_zone varchar not null,
    phone varchar,
    address varchar,
    opening_hours varchar,
    demo boolean default false not null,
    leads_need_second_factor boolean default false not null,
    last_patient_number integer default 0 not null,
    created_at timestamp with time zone not null,
    version integer default 0 not null
);

-- An age that is null is no limit.
create table practitioner (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    dominant_hand varchar check (dominant_hand in ('right', 'left')),
    methods varchar not null,
    least_age integer,
    most_age integer,
    active boolean not null,
    version integer default 0 not null,
    constraint practitioner_name_once unique (clinic_id, name)
);

create table room (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    active boolean not null,
    version integer default 0 not null,
    constraint room_name_once unique (clinic_id, name)
);

create table other_visit_kind (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    name varchar not null,
    minutes integer not null check (minutes between 1 and 180),
    active boolean not null,
    version integer default 0 not null,
    constraint other_visit_kind_name_once unique (clinic_id, name)
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
    version integer default 0 not null,
    constraint weekly_session_in_order check (starts < ends),
    constraint weekly_session_break_whole check ((break_starts is null) = (break_ends is null)),
    constraint weekly_session_break_inside check (break_starts is null
        or (starts <= break_starts and break_starts < break_ends and break_ends <= ends))
);
create index weekly_session_by_clinic on weekly_session (clinic_id, day_of_week);

-- Closed: no session of that practitioner (of anyone, if none is named) on that day. Extra: one more session.
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
    constraint session_exception_extra_whole check (kind = 'closed'
        or (practitioner_id is not null and room_id is not null
            and starts is not null and ends is not null and starts < ends))
);
create index session_exception_by_day on session_exception (clinic_id, exception_date);

-- The starts computed for a weekly session; the latest that was not withdrawn is in force.
create table session_template (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    weekly_session_id uuid not null references weekly_session (id) on delete cascade,
    made_by varchar not null,
    made_at timestamp with time zone not null,
    withdrawn_at timestamp with time zone
);
create index session_template_by_session on session_template (clinic_id, weekly_session_id, made_at);

create table session_template_place (
    id uuid primary key,
    template_id uuid not null references session_template (id) on delete cascade,
    starts time not null,
    slot_minutes integer not null check (slot_minutes between 1 and 180),
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    ears varchar not null check (ears in ('right', 'left', 'both'))
);
create index session_template_place_by_template on session_template_place (template_id);

-- offers_weigh_list: whether offers weigh the whole list or only go to the end of what is booked.
-- The costs say what one minute of wait, of idle time and of overtime weigh against each other.
-- slot_adjustments: minutes added to the slots of a kind of visit: microsuction-both=5;irrigation-one=-5.
create table policy (
    clinic_id uuid primary key references clinic (id),
    grid_minutes integer not null check (grid_minutes in (1, 5, 10, 15)),
    least_slot_minutes integer not null check (least_slot_minutes between 5 and 180),
    most_slot_minutes integer not null check (most_slot_minutes between 5 and 180),
    slot_adjustments varchar default '' not null,
    accepted_overrun_share double precision not null
        check (accepted_overrun_share > 0 and accepted_overrun_share < 1),
    accepted_overtime_share double precision not null
        check (accepted_overtime_share > 0 and accepted_overtime_share < 1),
    wait_limit_minutes integer not null check (wait_limit_minutes between 0 and 180),
    early_allowance_minutes integer not null check (early_allowance_minutes between 0 and 60),
    irrigation_turnaround_minutes integer not null check (irrigation_turnaround_minutes between 0 and 60),
    microsuction_turnaround_minutes integer not null check (microsuction_turnaround_minutes between 0 and 60),
    manual_removal_turnaround_minutes integer not null check (manual_removal_turnaround_minutes between 0 and 60),
    ten_days_sooner_minutes integer not null check (ten_days_sooner_minutes between 0 and 180),
    offers_weigh_list boolean default true not null,
    wait_cost double precision default 1 not null,
    idle_cost double precision default 1 not null,
    overtime_cost double precision default 1.5 not null,
    version integer not null,
    constraint policy_slots_in_order check (least_slot_minutes <= most_slot_minutes)
);

-- Changes of the policy made from a page that showed their effect, so that each can be undone.
create table policy_change (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    made_by varchar not null,
    made_at timestamp with time zone not null,
    undone_at timestamp with time zone,
    overtime_share_before double precision not null,
    wait_cost_before double precision not null,
    idle_cost_before double precision not null,
    overtime_cost_before double precision not null,
    overtime_share_after double precision not null,
    wait_cost_after double precision not null,
    idle_cost_after double precision not null,
    overtime_cost_after double precision not null,
    version integer not null
);
create index policy_change_by_time on policy_change (clinic_id, made_at);

-- Changes of slots and of the accepted overrun share, tried on a past month before they were made; each can be undone.
create table slot_change (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    made_by varchar not null,
    made_at timestamp with time zone not null,
    undone_by varchar,
    undone_at timestamp with time zone,
    overrun_share_before double precision not null,
    slot_adjustments_before varchar not null,
    overrun_share_after double precision not null,
    slot_adjustments_after varchar not null,
    version integer not null
);
create index slot_change_by_time on slot_change (clinic_id, made_at);

-- When each term of a policy was changed, from what to what.
create table policy_term_change (
    id bigint generated by default as identity primary key,
    clinic_id uuid not null references clinic (id),
    changed_at timestamp with time zone not null,
    term varchar not null,
    value_before double precision not null,
    value_after double precision not null
);
create index policy_term_change_by_time on policy_term_change (clinic_id, changed_at);
