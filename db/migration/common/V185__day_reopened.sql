-- A day that was opened again: when and why. It closes by itself the night after.
alter table clinic_day add column reopened_at timestamp with time zone;
alter table clinic_day add column reopened_reason text;
