-- What a patient is found again by, however the name was spelt: made by the application, which fills what is older at its start.
alter table patient add column family_start varchar;
alter table patient add column family_end varchar;
alter table patient add column family_sound varchar;
alter table patient add column phone_key varchar;
alter table patient add column keys_version integer default 0 not null;
create index patient_by_birth on patient (clinic_id, date_of_birth);
create index patient_by_phone on patient (clinic_id, phone_key);
create index patient_by_family_start on patient (clinic_id, family_start);
create index patient_by_family_end on patient (clinic_id, family_end);
create index patient_by_family_sound on patient (clinic_id, family_sound);
