//! The messenger: Telegram's messages in, turns, messages out, so that nothing acknowledged is ever lost.
//!
//! [`run`] is the whole of it. An update is kept (`intake`) before it is acknowledged, worked once and in order
//! a chat (`workers`), and what the turn has to say is sent at the platform's pace (`outbox`). The server
//! knows messages and bytes; what they mean is the business of whoever implements [`Answers`].

mod answers;
mod api;
mod backoff;
mod config;
mod examine;
mod intake;
mod lanes;
mod outbox;
mod pace;
mod rounds;
mod workers;

use std::future::Future;
use std::sync::Arc;

use teloxide::payloads::{DeleteWebhook, SetMyCommands};
use teloxide::types::BotCommand;
use tokio::time::{Instant, sleep};
use tokio_util::sync::CancellationToken;

pub use self::answers::{Answers, Menu, Phrase, TurnError, Turned};
pub use self::api::{Api, CallError, message_id};
pub use self::config::{Config, Limits, Token, TokenError, Way};
pub use self::examine::{Examined, examine};

use self::backoff::delays;
use self::intake::{Intake, polling, webhook};
use self::outbox::Outbox;
use self::workers::Workers;
use super::{ServeError, listen};
use crate::channel::telegram::update::Me;
use crate::store::Store;

/// The platform calls over 40 connections at once at most; more come of a server that starts beside this one, or of
/// somebody who should not be here.
const WEBHOOK: usize = 128;

/// Serves one bot until `stop` resolves; then the intake closes, the turns under way are finished, and what is
/// said is sent, within the limit. The webhook is left as it is, for whoever takes over.
pub async fn run<S: Store, T: Answers>(
    config: Config,
    store: Arc<S>,
    app: Arc<T>,
    stop: impl Future<Output = ()> + Send,
) -> Result<(), ServeError> {
    let limits = &config.limits;
    let api = Api::new(&config.api_url, config.token.clone(), limits.answer_within)
        .map_err(|error| ServeError::Client(error.to_string()))?;
    let closing = CancellationToken::new();
    let _closed_in_any_case = closing.clone().drop_guard();
    tokio::pin!(stop);
    let me = tokio::select! {
        me = introduce(&api) => me?,
        () = &mut stop => return Ok(()),
    };
    tracing::info!(bot = me.username, "connected");

    let outbox = Arc::new(Outbox::new(Arc::clone(&store), Arc::clone(&app), api.clone(), limits));
    let workers = Arc::new(Workers::new(
        store,
        Arc::clone(&app),
        api.clone(),
        Arc::clone(&outbox),
        me,
        limits.turns_at_once,
        closing.clone(),
    ));
    let intake = Arc::new(Intake::new(Arc::clone(&workers), limits));

    tokio::spawn(rounds::go(Arc::clone(&intake), Arc::clone(&outbox), closing.clone()));
    tokio::spawn(register_menus(api.clone(), app.menus()));

    let (to_send, to_work) = (outbox.resume().await?, intake.resume().await?);
    tracing::info!(to_send, to_work, "taken up where it was left");
    open_intake(&config, api, intake, &closing).await?;

    stop.await;
    let deadline = Instant::now() + limits.stop_within;
    closing.cancel();
    let all_worked = workers.drain(deadline).await;
    let chats_unsent = outbox.drain(deadline).await;
    tracing::info!(all_worked, chats_waiting = workers.chats_waiting(), chats_unsent, "stopped");
    Ok(())
}

async fn open_intake<S: Store, T: Answers>(
    config: &Config,
    api: Api,
    intake: Arc<Intake<S, T>>,
    closing: &CancellationToken,
) -> Result<(), ServeError> {
    match &config.way {
        Way::Polling => {
            let (poll_for, stop) = (config.limits.poll_for, closing.clone());
            tokio::spawn(async move {
                // Updates are either pushed or asked for: one left from before would refuse our asking.
                if let Err(error) = api.ask(&DeleteWebhook::new()).await {
                    tracing::warn!(%error, "a webhook may still be set");
                }
                polling::poll(api, intake, poll_for, stop).await;
            });
        }
        Way::Webhook { listen: address, public_url } => {
            let path = path_of(public_url).ok_or(ServeError::PublicUrl)?;
            let secret = webhook::Secret::of(&config.token).map_err(|_| ServeError::Token(String::new()))?;
            let largest = config.limits.largest_update;
            let route = webhook::route(&path, intake, secret.clone(), largest, closing.clone());
            listen(*address, route, WEBHOOK, closing.clone()).await?;
            tokio::spawn(webhook::register(api, public_url.clone(), secret, closing.clone()));
        }
    }
    Ok(())
}

/// The path of a URL, where it has one that a route can be made of.
fn path_of(url: &str) -> Option<String> {
    let (_, rest) = url.split_once("://")?;
    let (_, path) = rest.split_once('/')?;
    let safe = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '/');
    (!path.is_empty() && path.chars().all(safe)).then(|| format!("/{path}"))
}

/// Asks the platform who we are, until it answers; a token it does not know is an error at once.
async fn introduce(api: &Api) -> Result<Me, ServeError> {
    let mut delays = delays();
    loop {
        match api.me().await {
            Ok(me) => return Ok(me),
            Err(CallError::Token(reason)) => return Err(ServeError::Token(reason)),
            Err(error) => tracing::warn!(%error, "the platform does not answer yet"),
        }
        sleep(delays.next().unwrap_or_default()).await;
    }
}

async fn register_menus(api: Api, menus: Vec<Menu>) {
    for menu in menus {
        let commands = menu
            .commands
            .iter()
            .map(|(command, description)| BotCommand::new(command.as_str(), description.as_str()));
        let mut wish = SetMyCommands::new(commands);
        wish.language_code = menu.language;
        if let Err(error) = api.ask(&wish).await {
            tracing::warn!(%error, "the commands are not shown");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_url_with_a_plain_path_can_be_listened_on() {
        assert_eq!(path_of("https://roof.example/telegram").as_deref(), Some("/telegram"));
        for wrong in
            ["roof.example/telegram", "https://roof.example", "https://roof.example/", "https://a/{x}"]
        {
            assert_eq!(path_of(wrong), None, "{wrong}");
        }
    }
}
