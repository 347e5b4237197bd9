-- Cautions, and which methods they allow.

-- Cautions known of a patient, from referral to referral. One row each time something was not known before; a correction
-- leaves the row and says who found it wrong, and why. The ids of merged patients are followed on reading.
create table patient_caution (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    patient_id uuid not null references patient (id),
    caution varchar not null,
    ear varchar,
    method varchar,
    since date,
    all_clear boolean not null,
    basis varchar not null,
    recorded_on date not null,
    recorded_by varchar not null,
    confirmed_on date not null,
    confirmed_by varchar not null,
    corrected_at timestamp with time zone,
    corrected_by varchar,
    corrected_practitioner_id uuid references practitioner (id),
    correction varchar,
    version integer not null
);
create index patient_caution_by_patient on patient_caution (clinic_id, patient_id);

-- How often, by whom and when a clinic changed its caution table.
create table caution_table (
    clinic_id uuid primary key references clinic (id),
    changes integer not null,
    changed_by varchar not null,
    changed_at timestamp with time zone not null,
    version integer not null
);

-- The clinic's own cells of the caution table: where each comes from, and who signed it off here.
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
    source_mark varchar not null,
    signed_name varchar,
    signed_role varchar,
    signed_on date,
    review_by date,
    constraint caution_cell_once unique (clinic_id, caution, method, place)
);
