//! The webhook side: every waiting update is pushed, several at once and so out of order, until it is answered
//! with 2xx.

use std::collections::HashSet;
use std::sync::{Arc, Mutex};
use std::time::Duration;

use serde_json::Value;
use tokio::sync::Semaphore;
use tokio::time::{sleep, timeout};

use super::{Inner, poison};

/// How many pushes are under way at once.
const AT_ONCE: usize = 40;

pub fn start(inner: Arc<Inner>) {
    tokio::spawn(async move {
        let client = reqwest::Client::builder().timeout(Duration::from_secs(10)).build().unwrap();
        let places = Arc::new(Semaphore::new(AT_ONCE));
        let under_way = Arc::new(Mutex::new(HashSet::new()));
        loop {
            let woken = inner.arrived.notified();
            for (id, update, hook) in due(&inner, &under_way) {
                let place = Arc::clone(&places).acquire_owned().await.unwrap();
                let (inner, client, under_way) = (Arc::clone(&inner), client.clone(), Arc::clone(&under_way));
                tokio::spawn(async move {
                    let taken = push(&client, &hook, &update).await;
                    if taken {
                        let mut state = inner.lock();
                        state.pushed += 1;
                        if let Some(at) = state.updates.iter().position(|(waiting, _)| *waiting == id) {
                            state.updates.remove(at);
                        }
                    } else {
                        sleep(Duration::from_millis(50)).await;
                    }
                    under_way.lock().unwrap().remove(&id);
                    drop(place);
                    inner.arrived.notify_waiters();
                });
            }
            let _ = timeout(Duration::from_millis(100), woken).await;
        }
    });
}

type Hook = (String, String);

fn due(inner: &Inner, under_way: &Mutex<HashSet<i64>>) -> Vec<(i64, Value, Hook)> {
    let state = inner.lock();
    let Some(hook) = state.webhook.clone() else { return Vec::new() };
    let mut under_way = under_way.lock().unwrap();
    let free = AT_ONCE.saturating_sub(under_way.len());
    let waiting = state.updates.iter().filter(|(id, _)| !under_way.contains(id)).take(free);
    let due: Vec<_> = waiting.map(|(id, update)| (*id, update.clone(), hook.clone())).collect();
    // A repeated update stands twice in line: one of the two at a time.
    due.into_iter().filter(|(id, _, _)| under_way.insert(*id)).collect()
}

async fn push(client: &reqwest::Client, (url, secret): &Hook, update: &Value) -> bool {
    let request = client.post(url).header("X-Telegram-Bot-Api-Secret-Token", secret);
    let request = request.header("content-type", "application/json").body(poison::spread(update));
    let pushed = request.send().await;
    pushed.is_ok_and(|answer| answer.status().is_success())
}
