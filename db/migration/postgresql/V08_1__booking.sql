-- The second guard behind the lock on the day: booked places of a practitioner or a room never overlap.
create extension if not exists btree_gist;

alter table appointment add constraint appointment_practitioner_once
    exclude using gist (practitioner_id with =, tstzrange(starts_at, ends_at) with &&) where (holds_place);

alter table appointment add constraint appointment_room_once
    exclude using gist (room_id with =, tstzrange(starts_at, ends_at) with &&) where (holds_place);
