-- The last number given to a patient who came without one; counted under the lock of the clinic's row.
alter table clinic add column last_patient_number integer default 0 not null;
update clinic set last_patient_number = (select count(*) from patient p where p.clinic_id = clinic.id);

-- One form makes one referral, however often it is sent.
alter table referral add column form_key uuid;
alter table referral add constraint referral_form_once unique (clinic_id, form_key);

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
