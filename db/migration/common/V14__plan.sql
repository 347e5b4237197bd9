-- What a session pattern gives under each way of setting slots, computed in the background (JSON).
create table trade_off_kept (
    clinic_id uuid not null references clinic (id),
    content_key varchar not null,
    points varchar not null,
    made_at timestamp with time zone not null,
    primary key (clinic_id, content_key)
);
