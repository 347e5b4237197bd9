-- Each press of the running list that brought a key of its own: sent twice, it counts once.
create table press (
    clinic_id uuid not null references clinic (id),
    press_key uuid not null,
    appointment_id uuid not null references appointment (id) on delete cascade,
    event varchar not null check (event in ('arrived', 'called_in', 'finished', 'room_ready')),
    made_at timestamp with time zone not null,
    received_at timestamp with time zone not null,
    who varchar not null,
    primary key (clinic_id, press_key)
);
create index press_by_appointment on press (appointment_id);

-- Whose turn it is, where that is not the order of the booked starts; what the patient was told of the wait.
alter table appointment add column turn timestamp with time zone;
alter table appointment add column told_at timestamp with time zone;
alter table appointment add column told_minutes integer;
