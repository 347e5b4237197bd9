-- How the method suited each ear when the visit was booked, so that a later judgement can be told from it.
alter table appointment add column suited_right varchar check (suited_right in ('suitable', 'precaution', 'contraindicated'));
alter table appointment add column suited_left varchar check (suited_left in ('suitable', 'precaution', 'contraindicated'));
