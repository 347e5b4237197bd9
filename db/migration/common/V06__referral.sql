-- What was asked for and what was reported. Null in a finding means "not known", which differs from every level.
-- Red flags and cautions are codes joined by semicolons; one that was not asked stands in no list.
-- after_triage: the status that follows once the open questions are answered.
-- form_key: one form makes one referral, however often it is sent.
create table referral (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    patient_id uuid not null,

    origin varchar default 'referral' not null check (origin in ('referral', 'self_referral', 'enquiry')),
    referrer varchar,
    received_on date not null,
    reason varchar,
    priority varchar not null check (priority in ('routine', 'soon', 'urgent')),

    method_planned varchar not null check (method_planned in ('irrigation', 'microsuction', 'manual_removal')),
    ears varchar not null check (ears in ('right', 'left', 'both')),
    first_visit varchar not null check (first_visit in ('yes', 'no', 'not_known')),
    softener_days integer check (softener_days between 0 and 365),
    last_time varchar,

    not_before date,
    must_follow varchar,
    must_follow_by date,
    short_notice varchar default 'not_known' not null check (short_notice in ('yes', 'no', 'not_known')),

    red_flag varchar,
    red_flags_yes varchar,
    red_flags_no varchar,
    red_flags_not_known varchar,
    cautions_asked boolean not null,
    cautions_not_known varchar,

    right_wax varchar,
    right_canal varchar,
    right_depth varchar,
    right_occlusion varchar,
    left_wax varchar,
    left_canal varchar,
    left_depth varchar,
    left_occlusion varchar,

    status varchar not null check (status in ('to_triage', 'ready_to_book', 'waiting', 'booked', 'closed')),
    after_triage varchar,
    closed_because varchar,
    form_key uuid,
    created_at timestamp with time zone not null,
    version integer not null,
    constraint referral_form_once unique (clinic_id, form_key)
);
create index referral_by_status on referral (clinic_id, status, received_on);
create index referral_by_patient on referral (patient_id);
-- Foreign keys after the indexes that serve them: H2 would make second ones.
alter table referral add foreign key (patient_id) references patient (id);

-- What the referral said of cautions; those of the patient stand in patient_caution.
create table referral_caution (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null,
    caution varchar not null,
    ear varchar check (ear in ('right', 'left')),
    method varchar,
    since date,
    all_clear boolean default false not null
);
create index referral_caution_by_referral on referral_caution (referral_id);
alter table referral_caution add foreign key (referral_id) references referral (id) on delete cascade;

-- A method used against the caution table, and why.
create table method_override (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null references referral (id),
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    cautions varchar not null,
    table_version varchar not null,
    reason varchar not null,
    practitioner_id uuid not null references practitioner (id),
    who varchar not null,
    at timestamp with time zone not null,
    withdrawn_at timestamp with time zone
);
create index method_override_by_referral on method_override (clinic_id, referral_id);

-- Referrals begun and not finished.
create table referral_draft (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    fields varchar not null,
    begun_by varchar not null,
    saved_at timestamp with time zone not null,
    version integer not null
);
create index referral_draft_by_clinic on referral_draft (clinic_id, saved_at);

-- What the lead has decided about referrals; without a row the defaults are in force.
create table referral_policy (
    clinic_id uuid primary key references clinic (id),
    red_flag_clinician_id uuid references practitioner (id),
    recall_months integer default 6 not null check (recall_months in (0, 3, 6)),
    did_not_attend_limit integer default 2 not null check (did_not_attend_limit between 0 and 9),
    short_notice_days integer default 2 not null check (short_notice_days between 0 and 28),
    version integer not null
);

-- What the clinic asks about a red flag, and where it sends the patient.
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

-- Red flags that were raised, and what was decided. flags_unasked: not asked when the case was settled.
-- to_be_seen_at: a clinician decided to see the patient here while the case stays open.
create table red_flag_case (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid not null,
    flags varchar not null,
    flags_not_known varchar,
    flags_unasked varchar,
    words varchar,
    clinician_id uuid references practitioner (id),
    raised_at timestamp with time zone not null,
    raised_by varchar not null,
    to_be_seen_at timestamp with time zone,
    settled_as varchar check (settled_as in ('sent_on', 'cleared')),
    settled_at timestamp with time zone,
    version integer not null,
    constraint red_flag_case_settled_whole check ((settled_as is null) = (settled_at is null))
);
create index red_flag_case_open on red_flag_case (clinic_id, settled_at);
create index red_flag_case_by_referral on red_flag_case (referral_id);
alter table red_flag_case add foreign key (referral_id) references referral (id);

create table red_flag_step (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    case_id uuid not null references red_flag_case (id),
    at timestamp with time zone not null,
    who varchar not null,
    step varchar not null,
    words varchar,
    constraint red_flag_step_known
        check (step in ('raised', 'named', 'told', 'not_reached', 'see_here', 'sent_on', 'cleared'))
);
create index red_flag_step_by_case on red_flag_step (case_id, at);
