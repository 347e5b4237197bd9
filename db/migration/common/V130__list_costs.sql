-- What a minute's wait, a minute's idle time and a minute's overtime weigh against each other when a list is set.
alter table policy add column wait_cost double precision default 1 not null;
alter table policy add column idle_cost double precision default 1 not null;
alter table policy add column overtime_cost double precision default 1.5 not null;
