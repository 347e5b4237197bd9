-- Appointments, and the days on which they are made.

-- One row for each day of a clinic: the lock that anyone who books on that day holds.
-- A day that was reopened closes by itself the night after.
create table clinic_day (
    clinic_id uuid not null references clinic (id),
    day_date date not null,
    closed_at timestamp with time zone,
    reopened_at timestamp with time zone,
    reopened_reason text,
    primary key (clinic_id, day_date)
);

-- turn: set if the turn is not by booked start. comes_at: when the patient says to come, if later than booked. told_at, told_minutes: what the patient was told of the wait.
-- suited_right, suited_left: how the method suited each ear at booking, so that a later judgement can be compared.
-- red_flags_asked_at is null if nobody asked at arrival whether anything was new.
create table appointment (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    referral_id uuid,
    patient_id uuid,
    visit_id uuid,
    other_visit_kind_id uuid references other_visit_kind (id),
    booking_ref varchar,

    practitioner_id uuid not null references practitioner (id),
    room_id uuid not null references room (id),
    clinic_date date not null,
    starts_at timestamp with time zone not null,
    ends_at timestamp with time zone not null,
    slot_minutes integer not null check (slot_minutes between 1 and 180),
    fit_in boolean not null,
    fit_in_reason varchar,

    method_planned varchar check (method_planned in ('irrigation', 'microsuction', 'manual_removal')),
    ears varchar check (ears in ('right', 'left', 'both')),
    estimate varchar,
    estimate_version varchar,
    suited_right varchar check (suited_right in ('suitable', 'precaution', 'contraindicated')),
    suited_left varchar check (suited_left in ('suitable', 'precaution', 'contraindicated')),

    status varchar not null check (status in ('proposed', 'pending', 'booked', 'arrived', 'checked-in', 'fulfilled',
        'cancelled', 'noshow', 'waitlist', 'entered-in-error')),
    holds_place boolean not null,
    confirmed boolean not null,
    cancelled_by varchar check (cancelled_by in ('patient', 'clinic')),
    cancel_reason varchar,
    attendance varchar check (attendance in ('attended', 'attended_late', 'late_not_seen', 'did_not_attend',
        'cancelled_by_patient', 'cancelled_by_clinic')),

    arrived_at timestamp with time zone,
    red_flags_asked_at timestamp with time zone,
    red_flags_asked_by varchar,
    turn timestamp with time zone,
    comes_at timestamp with time zone,
    told_at timestamp with time zone,
    told_minutes integer,
    called_in_at timestamp with time zone,
    stepped_out_at timestamp with time zone,
    called_in_again_at timestamp with time zone,
    finished_at timestamp with time zone,
    room_ready_at timestamp with time zone,
    times_entered_later boolean not null,
    note varchar,

    booked_by varchar not null,
    booked_at timestamp with time zone not null,
    version integer not null,
    constraint appointment_booking_ref_once unique (clinic_id, booking_ref),
    constraint appointment_in_order check (starts_at < ends_at),
    constraint appointment_times_in_order
        check (called_in_at is null or finished_at is null or called_in_at < finished_at),
    constraint appointment_of_one_kind check ((method_planned is null) = (other_visit_kind_id is not null))
);
create index appointment_by_day on appointment (clinic_id, clinic_date);
create index appointment_by_referral on appointment (referral_id);
create index appointment_by_patient on appointment (patient_id);
create index appointment_by_visit on appointment (visit_id);
-- Foreign keys after the indexes that serve them: H2 would make second ones.
alter table appointment add foreign key (referral_id) references referral (id);
alter table appointment add foreign key (patient_id) references patient (id);
alter table appointment add foreign key (visit_id) references visit (id);
-- By when they were booked, for how long referrals waited.
create index appointment_by_booking on appointment (clinic_id, booked_at);
