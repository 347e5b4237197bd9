-- Which server does a piece of work that one server at a time may do, and until when, by this database's clock in UTC.
-- To the microsecond: rounded to milliseconds, the end of a released lock could lie half a millisecond ahead, and the
-- lock could not be taken at once.
create table shedlock (
    name varchar(64) primary key,
    lock_until timestamp not null,
    locked_at timestamp not null,
    locked_by varchar(255) not null
);
