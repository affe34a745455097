-- By which start of the machine a wrong PIN was counted, and how long it had run then: a clock that
-- is set forward ends no wait, one that is set back makes none longer.

alter table pin_tries add column started text;
alter table pin_tries add column up_s real;
