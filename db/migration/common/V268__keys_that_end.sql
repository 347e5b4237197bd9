-- What a key may do, until when, and when it was last used. Keys made before may do everything and do not expire.
alter table integration_key add column may_write boolean default true not null;
alter table integration_key add column expires_at timestamp with time zone;
alter table integration_key add column last_used_at timestamp with time zone;
