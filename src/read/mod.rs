//! From files to a job: workbooks and text tables in, typed values with their places out.
pub mod library;
