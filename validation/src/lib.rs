//! Holds the program against things nobody here wrote: published examples and general-purpose reference libraries.
