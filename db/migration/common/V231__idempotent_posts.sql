-- What a program was answered under a key of its own, for a day, so that a request sent again is done once.
create table idempotent_post (
    clinic_id uuid not null references clinic (id),
    program varchar not null,
    idempotency_key varchar not null,
    request_hash varchar not null,
    received_at timestamp with time zone not null,
    status integer,
    content_type varchar,
    location varchar,
    etag varchar,
    body varchar,
    primary key (clinic_id, program, idempotency_key)
);
create index idempotent_post_by_time on idempotent_post (received_at);
