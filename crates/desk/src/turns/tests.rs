use std::pin::Pin;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc;
use std::task::{Context, Waker};

use super::*;

fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_multi_thread().build().unwrap()
}

/// A request that is waiting for its answer.
fn asked<F: Future>(request: F) -> Pin<Box<F>> {
    let mut request = Box::pin(request);
    assert!(request.as_mut().poll(&mut Context::from_waker(Waker::noop())).is_pending());
    request
}

#[test]
fn only_the_first_and_the_last_of_a_hundred_requests_are_computed() {
    let (turns, done) = (Turns::new(), Arc::new(AtomicU32::new(0)));
    let (go_on, held) = mpsc::channel();
    let answers = runtime().block_on(async {
        let count = Arc::clone(&done);
        let first = asked(turns.take("page", 1, move || {
            held.recv().unwrap();
            count.fetch_add(1, Ordering::SeqCst);
            1
        }));
        let waiting: Vec<_> = (2..=100)
            .map(|number| {
                let count = Arc::clone(&done);
                let work = move || {
                    count.fetch_add(1, Ordering::SeqCst);
                    number
                };
                asked(turns.take("page", number, work))
            })
            .collect();
        go_on.send(()).unwrap();
        let mut answers = vec![first.await];
        for one in waiting {
            answers.push(one.await);
        }
        answers
    });
    assert_eq!(done.load(Ordering::SeqCst), 2);
    assert_eq!((&answers[0], &answers[99]), (&Ok(1), &Ok(100)));
    assert!(answers[1..99].iter().all(|answer| *answer == Err(Missed::Overtaken)));
}

#[test]
fn a_closed_page_keeps_its_turn_until_the_work_is_done() {
    let (turns, is_done) = (Turns::new(), Arc::new(AtomicBool::new(false)));
    let (go_on, held) = mpsc::channel();
    runtime().block_on(async {
        let done = Arc::clone(&is_done);
        let gone = asked(turns.take("page", 1, move || {
            held.recv().unwrap();
            done.store(true, Ordering::SeqCst);
        }));
        drop(gone);
        assert_eq!(turns.free.available_permits(), 0);
        let next = asked(turns.take("page", 2, move || is_done.load(Ordering::SeqCst)));
        go_on.send(()).unwrap();
        assert_eq!(next.await, Ok(true));
    });
}

#[test]
fn failed_work_ends_its_turn() {
    let (runtime, turns) = (runtime(), Turns::new());
    let broken: Result<(), Missed> = runtime.block_on(turns.take("page", 1, || panic!("a fault of the program")));
    assert_eq!(broken, Err(Missed::Broken));
    assert_eq!(runtime.block_on(turns.take("page", 2, || 2)), Ok(2));
}

#[test]
fn pages_do_not_overtake_each_other() {
    let turns = Turns::new();
    turns.note("a", 5);
    turns.note("b", 1);
    assert!(turns.is_overtaken("a", 4) && !turns.is_overtaken("a", 5) && !turns.is_overtaken("b", 1));
}

#[test]
fn a_page_too_many_replaces_the_page_that_was_silent_longest() {
    let turns = Turns::new();
    for page in 0..MOST_PAGES {
        turns.note(&page.to_string(), 5);
    }
    // The oldest page asks again, so the second is now the one that was silent longest.
    turns.note("0", 6);
    turns.note("new", 1);
    let is_known = |page: usize| turns.is_overtaken(&page.to_string(), 4);
    let forgotten: Vec<usize> = (0..MOST_PAGES).filter(|page| !is_known(*page)).collect();
    assert_eq!(forgotten, [1]);
    assert_eq!(turns.newest.lock().unwrap().len(), MOST_PAGES);
}
