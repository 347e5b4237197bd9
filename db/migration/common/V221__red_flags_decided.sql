-- A clinician may decide to see the patient here while the case stays open; that nobody was reached is a step of its own.
alter table red_flag_case add column to_be_seen_at timestamp with time zone;
alter table red_flag_step add column step varchar;
update red_flag_step set step = what;
alter table red_flag_step alter column step set not null;
alter table red_flag_step drop column what;
alter table red_flag_step add constraint red_flag_step_known
    check (step in ('raised', 'named', 'told', 'not_reached', 'see_here', 'sent_on', 'cleared'));

-- Who asked at arrival whether anything is new, and when; none: not asked at arrival.
alter table appointment add column red_flags_asked_at timestamp with time zone;
alter table appointment add column red_flags_asked_by varchar;
