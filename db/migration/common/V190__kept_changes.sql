-- What is kept of months can be worked out again at any time; one more part of it: what to change after a month.
drop table month_summary;

create table month_summary (
    clinic_id uuid not null references clinic (id),
    review_month varchar(7) not null,
    whose varchar(36) not null,
    part varchar not null check (part in ('sums', 'figures', 'again', 'change')),
    changes bigint not null,
    basis varchar not null,
    content varchar not null,
    primary key (clinic_id, whose, part, review_month)
);

-- Which server works out a clinic's months ahead of whoever reads them, and until when nobody else does.
create table review_turn (
    clinic_id uuid primary key references clinic (id),
    holder uuid not null,
    held_until timestamp with time zone not null
);
