//! One spelling for the many marks that keyboards, phones and word processors make.
