-- H2 has no exclusion constraint: the lock on the day alone guards the places. The index serves its check for overlaps.
create index appointment_by_practitioner on appointment (practitioner_id, clinic_date);
