//! Every field of the plant file, by section.
