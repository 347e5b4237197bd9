-- Rounded to milliseconds, the end of a lock given back could lie half a millisecond ahead, and the lock not be had at once.
alter table shedlock alter column lock_until type timestamp;
alter table shedlock alter column locked_at type timestamp;
