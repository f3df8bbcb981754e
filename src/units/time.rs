//! Hours of work and of elapsed time.

use super::quantity::quantity;

quantity!(
    /// Hours: person-hours of work, or elapsed hours where the name says so.
    Hours, of, in_hours, "hours"
);
