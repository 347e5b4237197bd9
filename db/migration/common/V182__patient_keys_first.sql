-- The key first, then the clinic: H2 goes through a list of keys by an index only where the key is its first column.
drop index patient_by_birth;
drop index patient_by_phone;
drop index patient_by_family_start;
drop index patient_by_family_end;
drop index patient_by_family_sound;
create index patient_by_birth on patient (date_of_birth, clinic_id);
create index patient_by_phone on patient (phone_key, clinic_id);
create index patient_by_family_start on patient (family_start, clinic_id);
create index patient_by_family_end on patient (family_end, clinic_id);
create index patient_by_family_sound on patient (family_sound, clinic_id);
create index patient_by_keys_version on patient (keys_version);
