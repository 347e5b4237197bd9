-- Reviews of months (JSON).

-- A month's review as it was reported; what is corrected in its visits afterwards does not change it.
create table closed_month (
    clinic_id uuid not null references clinic (id),
    review_month varchar(7) not null,
    closed_at timestamp with time zone not null,
    closed_by varchar not null,
    figures varchar not null,
    primary key (clinic_id, review_month)
);
