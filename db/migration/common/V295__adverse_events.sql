-- Several adverse events of one ear, most serious first: codes joined by semicolons. What was recorded before is a list of one.
alter table visit rename column right_adverse_event to right_adverse_events;
alter table visit rename column left_adverse_event to left_adverse_events;
