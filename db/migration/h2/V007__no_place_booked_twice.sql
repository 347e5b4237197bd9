-- H2 has no exclusion constraint; the day lock alone guards the places here. The index serves its overlap check.
create index appointment_by_practitioner on appointment (practitioner_id, clinic_date);
