-- Minutes that the slots of a kind of visit are given beyond what its estimate says: microsuction-both=5;irrigation-one=-5.
alter table policy add column slot_adjustments varchar default '' not null;

-- Changes of slots and of the accepted overrun share that were seen on a month before they were made, each to be taken back.
create table slot_change (
    id uuid primary key,
    clinic_id uuid not null references clinic (id),
    made_by varchar not null,
    made_at timestamp with time zone not null,
    undone_by varchar,
    undone_at timestamp with time zone,
    overrun_share_before double precision not null,
    slot_adjustments_before varchar not null,
    overrun_share_after double precision not null,
    slot_adjustments_after varchar not null,
    version integer not null
);
create index slot_change_by_time on slot_change (clinic_id, made_at);
