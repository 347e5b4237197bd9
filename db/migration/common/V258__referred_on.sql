-- What a referral to another service says beyond the record of the visit.
create table onward_referral (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    visit_id uuid not null references visit (id),
    sent_to varchar,
    reason varchar,
    priority varchar not null check (priority in ('routine', 'soon', 'urgent')),
    hearing_change varchar not null check (hearing_change in ('better', 'same', 'worse', 'not_known')),
    patient_told varchar not null check (patient_told in ('yes', 'no', 'not_known')),
    who varchar not null,
    changed_at timestamp with time zone not null,
    version integer not null,
    constraint onward_referral_once unique (visit_id)
);
