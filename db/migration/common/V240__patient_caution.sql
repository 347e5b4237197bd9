-- Cautions known of a patient, from referral to referral. One row each time something was not known before; a correction
-- keeps the row and says who found it wrong, and why. The ids of patients merged into one another are followed on reading.
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
create index patient_by_merge on patient (clinic_id, merged_into);

-- What referrals said so far was said of their patients. Repetitions are left out on reading.
insert into patient_caution (
    id, clinic_id, patient_id, caution, ear, method, since, all_clear, basis,
    recorded_on, recorded_by, confirmed_on, confirmed_by, version)
select c.id, c.clinic_id, r.patient_id, c.caution, c.ear, c.method, c.since, c.all_clear, 'asked',
    r.received_on, '-', r.received_on, '-', 0
from referral_caution c join referral r on r.id = c.referral_id;
