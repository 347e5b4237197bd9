-- Wrong passwords slow down whoever sends them and lock nobody out: accounts hold neither counts nor locks.
alter table account drop column failed_attempts;
alter table account drop column locked_until;
-- When a password was handed out that must be changed; it serves for a few days only.
alter table account add column handed_at timestamp with time zone;
update account set handed_at = current_timestamp where must_change_password;
