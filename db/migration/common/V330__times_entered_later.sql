-- An appointment says by itself whether a time of it was not taken by the clock as it happened.
alter table appointment add column times_entered_later boolean default false not null;
update appointment
set times_entered_later = true
where exists (select 1 from visit where visit.id = appointment.visit_id and visit.times_entered_later);
