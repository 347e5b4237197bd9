-- What is kept of months can be worked out again at any time; one more part of it: weeks to the next appointment.
drop table month_summary;

create table month_summary (
    clinic_id uuid not null references clinic (id),
    review_month varchar(7) not null,
    whose varchar(36) not null,
    part varchar not null check (part in ('sums', 'figures', 'again', 'change', 'weeks')),
    changes bigint not null,
    basis varchar not null,
    content varchar not null,
    primary key (clinic_id, whose, part, review_month)
);
