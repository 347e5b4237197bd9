-- What follows a visit.

-- A referral made from a visit that was not enough; one for each visit.
create table follow_up (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    visit_id uuid not null references visit (id),
    referral_id uuid not null references referral (id),
    constraint follow_up_once unique (visit_id)
);

-- What a person decided about a referral after a missed visit; nothing is closed by itself.
create table missed_decision (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null references referral (id),
    appointment_id uuid not null references appointment (id),
    decision varchar not null check (decision in ('book_again', 'close')),
    note varchar,
    who varchar not null,
    decided_at timestamp with time zone not null
);
create index missed_decision_by_appointment on missed_decision (clinic_id, appointment_id);

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

-- The clinic's own wording of its letters.
create table letter_text (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    kind varchar not null,
    body varchar not null,
    changed_by varchar not null,
    changed_at timestamp with time zone not null,
    version integer not null,
    constraint letter_text_once unique (clinic_id, kind)
);
