-- The ages a practitioner sees; null: no limit.
alter table practitioner add column least_age integer;
alter table practitioner add column most_age integer;
