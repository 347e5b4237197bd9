-- Patients and their referrals. Null in a finding means "not known", which differs from every level.
create table patient (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    local_number varchar not null,
    family_name varchar,
    given_name varchar,
    date_of_birth date,
    contact varchar,
    contact_person varchar,
    contact_permission varchar not null check (contact_permission in ('yes', 'no', 'not_known')),
    preferred_route varchar not null check (preferred_route in ('letter', 'text', 'call', 'not_known')),
    interpreter varchar,
    mobility varchar,
    consent_by varchar,
    comes_with varchar,
    hearing_aid varchar not null check (hearing_aid in ('yes', 'no', 'not_known')),
    created_at timestamp with time zone not null,
    version integer not null,
    constraint patient_number_once unique (clinic_id, local_number)
);
create index patient_by_name on patient (clinic_id, family_name);

create table referral (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    patient_id uuid not null references patient (id),
    referrer varchar,
    received_on date not null,
    reason varchar,
    priority varchar not null check (priority in ('routine', 'soon', 'urgent')),
    ears varchar not null check (ears in ('right', 'left', 'both')),
    method_planned varchar not null check (method_planned in ('irrigation', 'microsuction', 'manual_removal')),
    first_visit varchar not null check (first_visit in ('yes', 'no', 'not_known')),
    softener_days integer check (softener_days between 0 and 365),
    not_before date,
    last_time varchar,
    must_follow varchar,
    must_follow_by date,
    red_flag varchar,
    cautions_asked boolean not null,
    status varchar not null check (status in ('to_triage', 'ready_to_book', 'waiting', 'booked', 'closed')),
    right_wax varchar,
    right_canal varchar,
    right_depth varchar,
    right_occlusion varchar,
    left_wax varchar,
    left_canal varchar,
    left_depth varchar,
    left_occlusion varchar,
    created_at timestamp with time zone not null,
    version integer not null
);
create index referral_by_status on referral (clinic_id, status, received_on);
create index referral_by_patient on referral (patient_id);

create table referral_caution (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null references referral (id) on delete cascade,
    caution varchar not null,
    ear varchar check (ear in ('right', 'left')),
    since date
);
create index referral_caution_by_referral on referral_caution (referral_id);
