-- Two leads can change one rule of what to lay out: the second is told.
alter table tray_rule add column version integer default 0 not null;
