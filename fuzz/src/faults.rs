//! Checks that faults are useful.

use daylift_tables::Located;

/// Maximum length of a part of a fault \[characters\].
const LONGEST: usize = 4000;

/// A refused file has faults, and each says what is wrong, what is allowed, how to fix it, and where in the text.
pub fn check_faults(faults: &[Located]) {
    assert!(!faults.is_empty(), "refused without a fault");
    for located in faults {
        let fault = &located.fault;
        let parts = [&fault.quantity, &fault.given, &fault.allowed, &fault.remedy];
        assert!(parts.iter().all(|part| !part.trim().is_empty()), "{fault:?}");
        assert!(parts.iter().all(|part| part.chars().count() < LONGEST), "{fault:?}");
        let Some(place) = &located.place else { continue };
        let text = &place.source.text;
        assert!(
            text.get(place.span.clone()).is_some(),
            "{:?} is not a range of the text: {fault:?}",
            place.span
        );
        assert!(
            place.line() <= text.matches('\n').count() + 1,
            "line {}: {fault:?}",
            place.line()
        );
    }
}

/// The same for a file of rows: a fault after the start of the file is at a row. It is not at a blank line, at the end of
/// the previous row, or at a comment (where the file may have comments).
pub fn check_row_faults(faults: &[Located], comments: bool) {
    check_faults(faults);
    for located in faults {
        assert!(!located.fault.key.is_empty(), "no key: {located:?}");
        let Some(place) = located.place.as_ref().filter(|place| place.span.start > 0) else {
            continue;
        };
        let row = &place.source.text[place.span.clone()];
        assert!(
            !row.is_empty() && !row.starts_with(['\n', '\r']),
            "not at a row: {:?}",
            located.fault
        );
        assert!(!comments || !row.starts_with('#'), "at a comment: {:?}", located.fault);
    }
}
