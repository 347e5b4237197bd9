-- Which server does a piece of work that one server at a time may do, and until when, by this database's clock.
create table shedlock (
    name varchar(64) primary key,
    lock_until timestamp(3) with time zone not null,
    locked_at timestamp(3) with time zone not null,
    locked_by varchar(255) not null
);
