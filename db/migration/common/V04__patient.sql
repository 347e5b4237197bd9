-- Records of people. merged_into: this is a second record of that patient.
-- The last columns are search keys, which find a patient however the name was spelt; the application computes them.
create table patient (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    local_number varchar not null,
    merged_into uuid references patient (id),

    family_name varchar,
    given_name varchar,
    date_of_birth date,

    contact varchar,
    contact_person varchar,
    contact_permission varchar not null check (contact_permission in ('yes', 'no', 'not_known')),
    preferred_route varchar not null check (preferred_route in ('letter', 'text', 'call', 'not_known')),
    correspondence varchar default 'usual' not null
        check (correspondence in ('usual', 'no_recall', 'moved', 'deceased')),
    postal_address varchar,

    interpreter varchar,
    mobility varchar,
    consent_by varchar,
    comes_with varchar,
    hearing_aid varchar not null check (hearing_aid in ('yes', 'no', 'not_known')),

    created_at timestamp with time zone not null,
    version integer not null,

    family_start varchar,
    family_end varchar,
    family_sound varchar,
    phone_key varchar,
    search_text varchar,
    keys_version integer default 0 not null,
    constraint patient_number_once unique (clinic_id, local_number)
);
create index patient_by_name on patient (clinic_id, family_name);
create index patient_by_merge on patient (clinic_id, merged_into);
-- The key first, then the clinic: H2 looks up a list of keys by an index only if the key is its first column.
create index patient_by_birth on patient (date_of_birth, clinic_id);
create index patient_by_phone on patient (phone_key, clinic_id);
create index patient_by_family_start on patient (family_start, clinic_id);
create index patient_by_family_end on patient (family_end, clinic_id);
create index patient_by_family_sound on patient (family_sound, clinic_id);
create index patient_by_keys_version on patient (keys_version);

-- What was known of a patient before each change, and which fields changed.
create table patient_change (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    patient_id uuid not null references patient (id),
    changed_at timestamp with time zone not null,
    changed_by varchar not null,
    fields varchar not null,
    details_before varchar not null
);
create index patient_change_by_patient on patient_change (clinic_id, patient_id, changed_at);

-- Two records of one person made one.
create table patient_merge (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    kept_id uuid not null references patient (id),
    gone_id uuid not null references patient (id),
    kept_before varchar not null,
    who varchar not null,
    at timestamp with time zone not null,
    undone_by varchar,
    undone_at timestamp with time zone
);
create index patient_merge_by_kept on patient_merge (clinic_id, kept_id);

-- What moved from one record to the other.
create table patient_merge_item (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    merge_id uuid not null references patient_merge (id),
    kind varchar not null check (kind in ('referral', 'appointment', 'visit')),
    item_id uuid not null
);
create index patient_merge_item_by_merge on patient_merge_item (merge_id);
