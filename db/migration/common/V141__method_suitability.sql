-- The clinic's own cells of the caution table, and methods used against it for a reason.
alter table referral_caution add column method varchar;
alter table referral_caution add column all_clear boolean default false not null;

create table caution_table (
    clinic_id uuid primary key references clinic (id),
    changes integer not null,
    changed_by varchar not null,
    changed_at timestamp with time zone not null,
    version integer not null
);

create table caution_cell (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    caution varchar not null,
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    place integer not null check (place between 0 and 1),
    verdict varchar not null check (verdict in ('suitable', 'precaution', 'contraindicated')),
    within varchar,
    all_clear boolean not null,
    source varchar not null,
    mark varchar not null check (mark in ('published', 'from_memory', 'changed_here', 'signed_off')),
    constraint caution_cell_once unique (clinic_id, caution, method, place)
);

create table method_override (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null references referral (id),
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    cautions varchar not null,
    table_version varchar not null,
    reason varchar not null,
    practitioner_id uuid not null references practitioner (id),
    who varchar not null,
    at timestamp with time zone not null,
    withdrawn_at timestamp with time zone
);
create index method_override_by_referral on method_override (clinic_id, referral_id);
