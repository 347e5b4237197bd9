-- The clinic's own rules of what to lay out. A clinic without a row in tray_policy follows common practice.
create table tray_policy (
    clinic_id uuid primary key references clinic (id),
    settled_at timestamp with time zone not null
);

create table tray_rule (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    place integer not null,
    method varchar check (method in ('irrigation', 'microsuction', 'manual_removal')),
    wax varchar check (wax in ('loose', 'soft', 'sticky', 'firm', 'hard')),
    canal varchar check (canal in ('wide', 'average', 'narrow', 'very_narrow')),
    depth varchar,
    tray varchar not null,
    common_practice boolean not null,
    version integer default 0 not null
);
create index tray_rule_by_clinic on tray_rule (clinic_id, place);
