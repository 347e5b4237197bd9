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
