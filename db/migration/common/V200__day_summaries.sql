-- Changes of past visits are told apart by their day; a row without one is of any day of its month.
alter table past_visit_change add column visit_date date;

-- What one past day of the whole clinic comes to (JSON): after a correction only its day is worked out again. A day holds
-- while as many of its changes are counted as when it was worked out, and what else it rests on (basis) is the same.
create table day_summary (
    clinic_id uuid not null references clinic (id),
    visit_date date not null,
    changes bigint not null,
    basis varchar not null,
    content varchar not null,
    primary key (clinic_id, visit_date)
);

-- What an ear had done to it in the weeks before is found without reading all of a patient's past.
create index visit_by_patient_day on visit (clinic_id, patient_ref, visit_date);
drop index visit_by_patient;
