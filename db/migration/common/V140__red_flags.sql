-- Red flags: what each answer was, where the clinic sends whom, and what was done about one that was raised.
alter table referral add column red_flags_yes varchar;
alter table referral add column red_flags_no varchar;
alter table referral add column cautions_not_known varchar;
alter table referral add column after_triage varchar;

create table red_flag_guidance (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    flag varchar not null,
    ask varchar not null,
    sends_to varchar not null,
    source varchar not null,
    mark varchar not null check (mark in ('published', 'from_memory', 'changed_here', 'signed_off')),
    changed_by varchar not null,
    changed_at timestamp with time zone not null,
    version integer not null,
    constraint red_flag_guidance_once unique (clinic_id, flag)
);

create table red_flag_case (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null references referral (id),
    flags varchar not null,
    words varchar,
    clinician_id uuid references practitioner (id),
    raised_at timestamp with time zone not null,
    raised_by varchar not null,
    settled_as varchar check (settled_as in ('sent_on', 'cleared')),
    settled_at timestamp with time zone,
    version integer not null,
    constraint red_flag_case_settled_whole check ((settled_as is null) = (settled_at is null))
);
create index red_flag_case_open on red_flag_case (clinic_id, settled_at);
create index red_flag_case_by_referral on red_flag_case (referral_id);

create table red_flag_step (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    case_id uuid not null references red_flag_case (id),
    at timestamp with time zone not null,
    who varchar not null,
    what varchar not null check (what in ('raised', 'named', 'told', 'sent_on', 'cleared')),
    words varchar
);
create index red_flag_step_by_case on red_flag_step (case_id, at);

-- What the lead has settled about referrals; no row: the defaults.
create table referral_policy (
    clinic_id uuid primary key references clinic (id),
    red_flag_clinician_id uuid references practitioner (id),
    version integer not null
);
