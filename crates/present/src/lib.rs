//! Between an answer and its readers: words, numbers and tables. Answers carry ids and figures; what is said of them is here.
pub mod words;
