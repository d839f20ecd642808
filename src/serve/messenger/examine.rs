//! What an operator asks before calling for help: does the token work, do updates come in, is the clock right.

use teloxide::payloads::GetWebhookInfo;

use super::{Api, CallError, Config, Way};

/// One thing looked at: what, and how it is, or what is wrong and what to do.
pub type Examined = (&'static str, Result<String, String>);

/// The start of 2026: a clock before it was never set.
const NO_EARLIER: u64 = 1_767_225_600;

/// Looks at the platform from here.
pub async fn examine(config: &Config, now: u64) -> Vec<Examined> {
    let clock = if now >= NO_EARLIER {
        Ok(format!("{now} seconds since 1970"))
    } else {
        Err("the clock is years behind: set it, or links and limits go wrong".to_owned())
    };
    let api = match Api::new(&config.api_url, config.token.clone(), config.limits.answer_within) {
        Ok(api) => api,
        Err(error) => return vec![("clock", clock), ("token", Err(error.to_string()))],
    };
    let token = match api.me().await {
        Ok(me) => Ok(format!("@{}", me.username)),
        Err(CallError::Token(reason)) => {
            Err(format!("refused ({reason}): get a new one and put it into the file"))
        }
        Err(error) => Err(format!("{error}: is {} reached from here?", config.api_url)),
    };
    vec![("clock", clock), ("token", token), ("updates", webhook(&api, config).await)]
}

async fn webhook(api: &Api, config: &Config) -> Result<String, String> {
    let info = api.ask(&GetWebhookInfo::new()).await.map_err(|error| error.to_string())?;
    let url = info.url.map(String::from).unwrap_or_default();
    let (wrong, waiting) = (info.last_error_message.unwrap_or_default(), info.pending_update_count);
    match &config.way {
        Way::Polling if url.is_empty() => Ok(format!("asked for, {waiting} waiting")),
        Way::Polling => Ok(format!("a webhook is set ({url}) and will be taken off when the server starts")),
        Way::Webhook { public_url, .. } if url.is_empty() => {
            Ok(format!("none is set yet; the server will set {public_url}"))
        }
        Way::Webhook { .. } if !wrong.is_empty() => {
            Err(format!("the platform cannot deliver to {url}: {wrong} ({waiting} waiting)"))
        }
        Way::Webhook { .. } => Ok(format!("sent to {url}, {waiting} waiting")),
    }
}
