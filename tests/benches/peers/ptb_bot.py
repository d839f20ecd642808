"""Six questions with python-telegram-bot; its pickle persistence, written once a second."""

import json
import os
import pathlib

from telegram import Update
from telegram.ext import (
    Application,
    CommandHandler,
    ContextTypes,
    ConversationHandler,
    MessageHandler,
    PersistenceInput,
    PicklePersistence,
    filters,
)

QUESTIONS = json.loads(pathlib.Path(__file__).with_name("questions.json").read_text())
ASKING = 1


async def start(update: Update, context: ContextTypes.DEFAULT_TYPE) -> int:
    context.user_data["answers"] = []
    await update.message.reply_text(QUESTIONS[0])
    return ASKING


async def answer(update: Update, context: ContextTypes.DEFAULT_TYPE) -> int:
    answers = context.user_data["answers"]
    answers.append(update.message.text)
    if len(answers) < len(QUESTIONS):
        await update.message.reply_text(QUESTIONS[len(answers)])
        return ASKING
    await update.message.reply_text("Thank you: " + ", ".join(answers))
    return ConversationHandler.END


async def echo(update: Update, context: ContextTypes.DEFAULT_TYPE) -> None:
    await update.message.reply_text(update.message.text)


persistence = PicklePersistence(
    os.path.join(os.environ["BENCH_DIR"], "sessions.pickle"),
    store_data=PersistenceInput(bot_data=False, chat_data=False, callback_data=False),
    # The default is a minute: a crash would lose all of it.
    update_interval=1,
)
application = (
    Application.builder()
    .token(os.environ["BENCH_TOKEN"])
    .base_url(os.environ["BENCH_API"] + "/bot")
    .persistence(persistence)
    .connection_pool_size(100)
    # Conversations may not be handled side by side, says the library.
    .concurrent_updates(False)
    .build()
)
application.add_handler(
    ConversationHandler(
        entry_points=[CommandHandler("start", start)],
        states={ASKING: [MessageHandler(filters.TEXT & ~filters.COMMAND, answer)]},
        fallbacks=[],
        name="asking",
        persistent=True,
    )
)
application.add_handler(MessageHandler(filters.TEXT, echo))
application.run_polling(timeout=5, bootstrap_retries=3)
