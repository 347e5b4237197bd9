-- What otoscopy finds becomes a caution; why an ear was unsuitable; what the practitioner decides; called in twice.
alter table visit add column right_cautions_found varchar;
alter table visit add column left_cautions_found varchar;
alter table visit add column right_unsuitable_reason varchar;
alter table visit add column left_unsuitable_reason varchar;
alter table visit add column next_step varchar check (next_step in ('enough', 'come_again', 'refer_on'));
alter table visit add column called_in_again boolean default false not null;
update visit set called_in_again = true where outside_minutes > 0;
