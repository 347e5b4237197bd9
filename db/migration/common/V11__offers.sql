-- A change of a day made as a whole, so that it can be undone as a whole.
create table rearrangement (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    clinic_date date not null,
    fix varchar not null check (fix in ('retime', 'swap', 'move')),
    made_by varchar not null,
    made_at timestamp with time zone not null,
    undone_by varchar,
    undone_at timestamp with time zone,
    version integer not null
);
create index rearrangement_by_day on rearrangement (clinic_id, clinic_date);

-- The place that each moved visit had before.
create table rearranged_visit (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    rearrangement_id uuid not null references rearrangement (id) on delete cascade,
    appointment_id uuid not null references appointment (id) on delete cascade,
    from_practitioner_id uuid not null references practitioner (id),
    from_room_id uuid not null references room (id),
    from_date date not null,
    from_start timestamp with time zone not null,
    from_slot_minutes integer not null check (from_slot_minutes between 1 and 180),
    from_estimate varchar,
    from_estimate_version varchar,
    from_confirmed boolean not null,
    version_after integer not null
);
create index rearranged_visit_by_change on rearranged_visit (rearrangement_id);
