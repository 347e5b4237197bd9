-- Which patients a line of the trail concerns: one row each, so that it can be asked who saw or changed a patient.
create table audit_patient (
    entry_id bigint not null references audit_entry (id) on delete cascade,
    patient_id uuid not null,
    constraint audit_patient_pk primary key (patient_id, entry_id)
);
create index audit_patient_by_entry on audit_patient (entry_id);
-- Lines written before say the patient as their record, or a referral or appointment of one.
insert into audit_patient (entry_id, patient_id)
    select e.id, p.id from audit_entry e join patient p on p.clinic_id = e.clinic_id
    where e.subject_kind = 'patient' and e.subject_id = cast(p.id as varchar);
insert into audit_patient (entry_id, patient_id)
    select e.id, r.patient_id from audit_entry e join referral r on r.clinic_id = e.clinic_id
    where e.subject_kind = 'referral' and e.subject_id = cast(r.id as varchar);
insert into audit_patient (entry_id, patient_id)
    select e.id, a.patient_id from audit_entry e join appointment a on a.clinic_id = e.clinic_id
    where e.subject_kind = 'appointment' and e.subject_id = cast(a.id as varchar) and a.patient_id is not null;
update audit_entry set action = 'record-viewed' where action = 'patient-seen';
