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

-- The figures of a past month, part by part, for everyone (whose empty) or for one practitioner. They can be recomputed
-- at any time. A part is valid while as many changes of its months are counted (past_visit_change) as when it was
-- computed, and what else it rests on (basis) is the same.
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

-- The figures of one past day of the whole clinic, valid likewise: after a correction only its day is recomputed.
create table day_summary (
    clinic_id uuid not null references clinic (id),
    visit_date date not null,
    changes bigint not null,
    basis varchar not null,
    content varchar not null,
    primary key (clinic_id, visit_date)
);
