-- The visit log: what was booked and what happened. A visit holds its own copy of what was booked.
-- Null in a finding means "not known", which differs from every level. Lists are codes joined by semicolons.
-- outside_minutes and called_in_again: a visit whose patient left the room and was called in again.
-- adverse events: the most serious first. checks: what was ticked in the room, null if nothing was.
create table visit (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    visit_ref varchar not null,
    patient_ref varchar not null,

    visit_date date not null,
    practitioner_id uuid not null references practitioner (id),
    room_id uuid references room (id),
    booked_start timestamp with time zone,
    slot_minutes integer check (slot_minutes between 1 and 480),
    fit_in boolean not null,
    estimated_quantiles varchar,
    estimate_version varchar,

    method_planned varchar not null check (method_planned in ('irrigation', 'microsuction', 'manual_removal')),
    ears varchar not null check (ears in ('right', 'left', 'both')),
    first_visit varchar not null check (first_visit in ('yes', 'no', 'not_known')),
    hearing_aid varchar not null check (hearing_aid in ('yes', 'no', 'not_known')),
    cautions varchar not null,
    softener_days integer,
    referrer varchar,

    right_wax_reported varchar,
    right_canal_reported varchar,
    right_depth_reported varchar,
    right_occlusion_reported varchar,
    right_wax_found varchar,
    right_canal_found varchar,
    right_depth_found varchar,
    right_occlusion_found varchar,
    right_cautions_found varchar,
    right_methods varchar,
    right_outcome varchar,
    right_unsuitable_reason varchar,
    right_adverse_events varchar,

    left_wax_reported varchar,
    left_canal_reported varchar,
    left_depth_reported varchar,
    left_occlusion_reported varchar,
    left_wax_found varchar,
    left_canal_found varchar,
    left_depth_found varchar,
    left_occlusion_found varchar,
    left_cautions_found varchar,
    left_methods varchar,
    left_outcome varchar,
    left_unsuitable_reason varchar,
    left_adverse_events varchar,

    attendance varchar check (attendance in ('attended', 'attended_late', 'late_not_seen', 'did_not_attend',
        'cancelled_by_patient', 'cancelled_by_clinic')),
    arrived timestamp with time zone,
    called_in timestamp with time zone,
    finished timestamp with time zone,
    room_ready timestamp with time zone,
    outside_minutes integer default 0 not null check (outside_minutes between 0 and 180),
    called_in_again boolean default false not null,
    times_entered_later boolean not null,
    stopped_early varchar check (stopped_early in ('no', 'comfort', 'time', 'safety')),
    next_step varchar check (next_step in ('enough', 'come_again', 'refer_on')),
    checks text,
    note varchar,

    source varchar not null check (source in ('import', 'clinic')),
    content_hash varchar,
    version integer not null,
    constraint visit_ref_once unique (clinic_id, visit_ref),
    constraint visit_in_order check (called_in is null or finished is null or called_in < finished)
);
create index visit_by_day on visit (clinic_id, visit_date, visit_ref);
-- The latest visits of a kind are read without passing over those of all others.
create index visit_by_kind on visit (clinic_id, method_planned, ears, visit_date);
-- What an ear had done to it in the weeks before is found without reading all of a patient's past.
create index visit_by_patient_day on visit (clinic_id, patient_ref, visit_date);
