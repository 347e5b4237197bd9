-- Changes of the policy that were made from a page which showed their effect, so that each can be taken back.
create table policy_change (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    made_by varchar not null,
    made_at timestamp with time zone not null,
    undone_at timestamp with time zone,
    overtime_share_before double precision not null,
    wait_cost_before double precision not null,
    idle_cost_before double precision not null,
    overtime_cost_before double precision not null,
    overtime_share_after double precision not null,
    wait_cost_after double precision not null,
    idle_cost_after double precision not null,
    overtime_cost_after double precision not null,
    version integer not null
);
create index policy_change_by_time on policy_change (clinic_id, made_at);

-- The starts worked out for a weekly session; the latest that was not withdrawn is in force.
create table session_template (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    weekly_session_id uuid not null references weekly_session (id) on delete cascade,
    made_by varchar not null,
    made_at timestamp with time zone not null,
    withdrawn_at timestamp with time zone
);
create index session_template_by_session on session_template (clinic_id, weekly_session_id, made_at);

create table session_template_place (
    id uuid primary key,
    template_id uuid not null references session_template (id) on delete cascade,
    starts time not null,
    slot_minutes integer not null check (slot_minutes between 1 and 180),
    method varchar not null check (method in ('irrigation', 'microsuction', 'manual_removal')),
    ears varchar not null check (ears in ('right', 'left', 'both'))
);
create index session_template_place_by_template on session_template_place (template_id);

-- What a session pattern gives under each way of setting slots, worked out in the background and kept (JSON).
create table trade_off_kept (
    clinic_id uuid not null references clinic (id),
    content_key varchar not null,
    points varchar not null,
    made_at timestamp with time zone not null,
    primary key (clinic_id, content_key)
);
