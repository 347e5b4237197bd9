-- Each press of the running list that came with a key of its own: sent twice, it counts once.
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
