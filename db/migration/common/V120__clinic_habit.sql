-- Who comes, when, and what visits are usual, as learnt from the visit log beside a fit of the estimator.
create table clinic_habit (
    clinic_id uuid not null references clinic (id),
    version varchar not null,
    habits varchar not null,
    primary key (clinic_id, version)
);

-- Whether offers weigh the whole list (true) or go to the end of what is booked (false).
alter table policy add column offers_weigh_list boolean default true not null;
