-- By which figure, and from what size on, units of a lot are looked at again or rejected; the size is
-- without its sign, in the unit of the figure. A figure that is not listed screens nobody.
CREATE TABLE screening_limit (
  metric          text COLLATE "C" PRIMARY KEY,   -- a column of the table of figures
  look_again_over double precision,
  reject_over     double precision
);
