-- What two people can edit at the same time has a version, so that the second does not undo the first unseen.
alter table clinic add column version integer default 0 not null;
alter table practitioner add column version integer default 0 not null;
alter table room add column version integer default 0 not null;
alter table other_visit_kind add column version integer default 0 not null;
alter table weekly_session add column version integer default 0 not null;
alter table kit_unit add column version integer default 0 not null;
