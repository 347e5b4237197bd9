-- Each fit is kept with its settings, scores and a hash of its content.
create table estimator_snapshot (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    version varchar not null,
    fitted_at timestamp with time zone not null,
    settings varchar not null,
    visits integer not null,
    censored integer not null,
    seconds double precision not null,
    scores varchar not null,
    learnt varchar not null,
    content_hash varchar not null,
    in_force boolean not null,
    constraint estimator_snapshot_version_once unique (clinic_id, version)
);
create index estimator_snapshot_by_time on estimator_snapshot (clinic_id, fitted_at);

-- The model in pieces of at most 512 KiB.
create table estimator_snapshot_part (
    snapshot_id uuid not null references estimator_snapshot (id) on delete cascade,
    part integer not null,
    content bytea not null,
    primary key (snapshot_id, part)
);

-- Who fits now, so that however many servers run, one fits; how far that is; and the night last fitted.
create table estimator_run (
    clinic_id uuid primary key references clinic (id),
    holder varchar,
    held_until timestamp with time zone,
    stage varchar,
    done bigint not null,
    total bigint not null,
    failure varchar,
    last_night date
);
