//! The desk as a process: it is killed at any moment, and the plant's files stay whole.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stderr,
    reason = "a test fails by panicking and tells what it did"
)]

mod support;

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use daylift_testing::Plant;
use serde_json::{Value, json};

/// Kills in an ordinary test run; `cargo xtask kill` asks for more.
const KILLS: u32 = 200;
const KILLS_ASKED: &str = "DAYLIFT_KILLS";

/// A desk that serves, and its address.
struct Running {
    process: Child,
    address: String,
}

impl Running {
    fn start(folder: &Path, open: &str) -> Self {
        let mut process = Command::new(env!("CARGO_BIN_EXE_daylift"))
            .args(["desk", open, "--no-open", "--port", "0"])
            .current_dir(folder)
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(process.stderr.take().unwrap()).read_line(&mut line).unwrap();
        let address = line
            .split_once("http://")
            .and_then(|(_, rest)| rest.split_once('/'))
            .map(|(address, _)| address);
        let address = address.unwrap_or_else(|| panic!("it does not serve: {line}")).to_owned();
        Self { process, address }
    }

    fn kill(mut self) {
        self.process.kill().unwrap();
        self.process.wait().unwrap();
    }
}

/// Asks a desk; `None` when it goes away meanwhile.
fn ask(address: &str, path: &str, body: &Value) -> Option<(u16, Value)> {
    let mut stream = TcpStream::connect(address).ok()?;
    let body = body.to_string();
    let head = format!(
        "POST {path} HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\nConnection: close\r\n\r\n",
        body.len()
    );
    stream.write_all((head + &body).as_bytes()).ok()?;
    let mut reply = String::new();
    stream.read_to_string(&mut reply).ok()?;
    let (head, body) = reply.split_once("\r\n\r\n")?;
    let status = head.split(' ').nth(1)?.parse().ok()?;
    Some((status, serde_json::from_str(body).ok()?))
}

fn answer(address: &str) -> Value {
    let question = json!({
        "plant": "plant.toml", "changes": [], "looked_at": null, "turn": { "page": "test", "number": 1 },
    });
    let (status, answer) = ask(address, "/api/answer", &question).unwrap();
    assert_eq!(status, 200, "{answer}");
    answer
}

const CAPACITIES_M3: [u32; 2] = [165, 200];

fn save(address: &str, capacity_m3: u32, stamp: &str) -> Option<(u16, Value)> {
    let changes = json!([{ "file": "plant.toml", "keys": "tank.capacity_m3", "value": capacity_m3 }]);
    let question = json!({ "plant": "plant.toml", "changes": changes, "stamp": stamp });
    ask(address, "/api/save", &question)
}

/// Saves two values in turn until the desk goes away; returns how often the desk answered that they were saved. `stamps` are those of
/// the two texts, `now` says which of them is there.
fn save_on(address: &str, stamps: &[String; 2], mut now: usize) -> u32 {
    let mut saved = 0;
    loop {
        match save(address, CAPACITIES_M3[1 - now], &stamps[now]) {
            Some((200, answer)) => assert_eq!(answer["stamp"], *stamps[1 - now]),
            Some((status, answer)) => panic!("{status}: {answer}"),
            None => return saved,
        }
        now = 1 - now;
        saved += 1;
    }
}

fn parts(folder: &Path) -> usize {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name());
    names.filter(|name| name.to_string_lossy().starts_with(".daylift-")).count()
}

/// Numbers that look random and are the same in every run (the multiplicative generator of Lehmer, modulus 2³¹ − 1).
fn next(state: &mut u64) -> u64 {
    *state = *state * 48_271 % 2_147_483_647;
    *state
}

/// The stamps of the two texts, and how long the first save of a desk takes: those that follow know the weather already.
fn learn(folder: &Path) -> ([String; 2], Duration) {
    let mut desk = Running::start(folder, ".");
    let mut stamps = [
        answer(&desk.address)["stamp"].as_str().unwrap().to_owned(),
        String::new(),
    ];
    let mut took = Duration::ZERO;
    for (was, to) in [(0, 1), (1, 0)] {
        let started = Instant::now();
        let (status, saved) = save(&desk.address, CAPACITIES_M3[to], &stamps[was]).unwrap();
        assert_eq!(status, 200, "{saved}");
        took = started.elapsed();
        saved["stamp"].as_str().unwrap().clone_into(&mut stamps[to]);
        desk.kill();
        desk = Running::start(folder, ".");
    }
    desk.kill();
    (stamps, took)
}

#[test]
fn a_kill_at_any_moment_leaves_the_plant_file_whole() {
    let kills = std::env::var(KILLS_ASKED).map_or(KILLS, |times| times.parse().unwrap());
    let plant = Plant::new();
    let file = plant.path().join("plant.toml");
    let old = fs::read_to_string(&file).unwrap();
    let new = old.replace("capacity_m3 = 165 #", "capacity_m3 = 200 #");
    assert_ne!(old, new);
    let texts = [old.into_bytes(), new.into_bytes()];
    let (stamps, one_save) = learn(plant.path());
    let latest_us = u64::try_from(one_save.as_micros()).unwrap() * 3;
    let (mut state, mut saved, mut left, started) = (1, 0, 0, Instant::now());
    let (mut now, mut seen) = (0, [0_u32; 2]);
    for killed in 1..=kills {
        let desk = Running::start(plant.path(), ".");
        let (address, stamps) = (desk.address.clone(), stamps.clone());
        let saving = thread::spawn(move || save_on(&address, &stamps, now));
        // No wait for anything: the kill comes at a random instant of the save.
        thread::sleep(Duration::from_micros(next(&mut state) % latest_us));
        desk.kill();
        saved += saving.join().unwrap();
        let text = fs::read(&file).unwrap();
        let found = texts.iter().position(|whole| *whole == text);
        now = found.unwrap_or_else(|| panic!("spoilt by kill {killed}:\n{}", String::from_utf8_lossy(&text)));
        seen[now] += 1;
        // A kill leaves at most what was being written.
        let parts = parts(plant.path());
        assert!(parts <= left + 1, "{parts} parts after {left}");
        left = parts;
    }
    let took = started.elapsed();
    eprintln!("{kills} kills in {took:.0?}, {saved} saves confirmed, texts left {seen:?}, {left} parts left");
    assert!(
        saved > kills / 2,
        "only {saved} saves were confirmed: the kills did not interrupt any writing"
    );
    assert!(seen[0] > 0 && seen[1] > 0);
}

#[test]
fn the_desk_serves_a_folder_that_is_named_by_a_point() {
    let plant = Plant::new();
    for open in [".", "./", "plant.toml", "./plant.toml"] {
        let desk = Running::start(plant.path(), open);
        assert!(desk.address.starts_with("127.0.0.1:"), "{}", desk.address);
        let answer = answer(&desk.address);
        assert_eq!(answer["inputs"][0]["file"], "plant.toml", "{open}");
        let changes = json!([{ "file": "plant.toml", "keys": "tank.capacity_m3", "value": -1 }]);
        let question = json!({ "plant": "plant.toml", "changes": changes, "stamp": answer["stamp"] });
        let (status, refusal) = ask(&desk.address, "/api/save", &question).unwrap();
        assert_eq!(
            (status, &refusal["faults"][0]["file"]),
            (422, &json!("plant.toml")),
            "{open}"
        );
        desk.kill();
    }
}
