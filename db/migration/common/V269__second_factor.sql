-- A second factor of a person: the secret shared with an authenticator app, and codes for the day it is lost.
create table second_factor (
    account_id uuid primary key references account (id) on delete cascade,
    clinic_id uuid not null references clinic (id),
    secret varchar not null,
    confirmed_at timestamp with time zone,
    last_step bigint not null
);
create table recovery_code (
    account_id uuid not null references second_factor (account_id) on delete cascade,
    code_hash varchar not null,
    constraint recovery_code_pk primary key (account_id, code_hash)
);
-- Whether leads must have one.
alter table clinic add column leads_need_second_factor boolean default false not null;
