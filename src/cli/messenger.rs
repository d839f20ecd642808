//! The messenger of `lapwise serve`: its token and its way in.

use std::net::SocketAddr;
use std::path::PathBuf;

use anyhow::Context;
use clap::Args;
use lapwise::serve::{Config, Limits, Token, Way};

use super::credential;

/// Where the bot's token is, if systemd was told to hand it over.
const TOKEN_CREDENTIAL: &str = "telegram-token";

#[derive(Args, Clone)]
pub(super) struct MessengerArguments {
    /// The file with the bot's token; without it, the service credential `telegram-token`.
    #[arg(long, value_name = "FILE", env = "LAPWISE_TELEGRAM_TOKEN_FILE")]
    telegram_token_file: Option<PathBuf>,
    /// The Bot API server.
    #[arg(long, value_name = "URL", default_value = "https://api.telegram.org")]
    api_url: String,
    /// Have updates sent to this public address, as `https://roof.example/telegram`, instead of asking for them.
    #[arg(long, value_name = "URL", requires = "listen")]
    public_url: Option<String>,
    /// Where to listen for them, behind whatever speaks TLS.
    #[arg(long, value_name = "ADDRESS", requires = "public_url")]
    listen: Option<SocketAddr>,
}

impl MessengerArguments {
    /// Whether a token is there.
    pub(super) fn is_wanted(&self) -> bool {
        self.telegram_token_file.is_some() || credential(TOKEN_CREDENTIAL).is_some()
    }

    fn token(&self) -> anyhow::Result<Token> {
        let file = self.telegram_token_file.clone().or_else(|| credential(TOKEN_CREDENTIAL));
        let file = file.context("no bot token: name its file with --telegram-token-file")?;
        Ok(Token::from_file(&file)?)
    }

    pub(super) fn config(&self) -> anyhow::Result<Config> {
        let way = match (&self.public_url, self.listen) {
            (Some(public_url), Some(listen)) => Way::Webhook { listen, public_url: public_url.clone() },
            _ => Way::Polling,
        };
        Ok(Config { token: self.token()?, api_url: self.api_url.clone(), way, limits: Limits::default() })
    }
}
