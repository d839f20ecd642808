//! How the pieces of one slope come out of the fewest bought sheets, with the fewest cuts.
