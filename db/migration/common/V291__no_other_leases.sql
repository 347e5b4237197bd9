-- Whose turn it is stands in shedlock alone; here remains how far a fit is, how the last one ended, and the night.
alter table estimator_run drop column holder;
alter table estimator_run drop column held_until;
drop table review_turn;
