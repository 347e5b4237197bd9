-- Referrals begun and not finished, where a referral came from, and two records of one person made one.
alter table referral add column origin varchar default 'referral' not null check (origin in ('referral', 'self_referral', 'enquiry'));
alter table patient add column merged_into uuid references patient (id);

create table referral_draft (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    fields varchar not null,
    begun_by varchar not null,
    saved_at timestamp with time zone not null,
    version integer not null
);
create index referral_draft_by_clinic on referral_draft (clinic_id, saved_at);

create table patient_merge (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    kept_id uuid not null references patient (id),
    gone_id uuid not null references patient (id),
    kept_before varchar not null,
    who varchar not null,
    at timestamp with time zone not null,
    undone_by varchar,
    undone_at timestamp with time zone
);
create index patient_merge_by_kept on patient_merge (clinic_id, kept_id);

create table patient_merge_item (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    merge_id uuid not null references patient_merge (id),
    kind varchar not null check (kind in ('referral', 'appointment', 'visit')),
    item_id uuid not null
);
create index patient_merge_item_by_merge on patient_merge_item (merge_id);
