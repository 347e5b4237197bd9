-- Called in twice, what follows a visit, the recall of hearing-aid wearers, and the clinic's own letters.
alter table visit add column outside_minutes integer default 0 not null check (outside_minutes between 0 and 180);
alter table appointment add column stepped_out_at timestamp with time zone;
alter table appointment add column called_in_again_at timestamp with time zone;
alter table referral_policy add column recall_months integer default 6 not null check (recall_months in (0, 3, 6));

create table follow_up (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    visit_id uuid not null references visit (id),
    referral_id uuid not null references referral (id),
    constraint follow_up_once unique (visit_id)
);

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
