"""Six questions with aiogram; every chat's state in a file of its own, replaced whole at each write."""

import asyncio
import json
import os
import pathlib

import uvloop
from aiogram import Bot, Dispatcher
from aiogram.client.session.aiohttp import AiohttpSession
from aiogram.client.telegram import TelegramAPIServer
from aiogram.filters import CommandStart, StateFilter
from aiogram.fsm.context import FSMContext
from aiogram.fsm.state import State, StatesGroup
from aiogram.fsm.storage.base import BaseStorage, StorageKey
from aiogram.types import Message

QUESTIONS = json.loads(pathlib.Path(__file__).with_name("questions.json").read_text())


class Files(BaseStorage):
    """aiogram brings memory, Redis and MongoDB; this is the least that keeps state on a disk without a server."""

    def __init__(self, folder: str):
        self.folder = pathlib.Path(folder)

    def read(self, key: StorageKey) -> dict:
        try:
            return json.loads((self.folder / f"{key.chat_id}.json").read_text())
        except FileNotFoundError:
            return {"state": None, "data": {}}

    def write(self, key: StorageKey, kept: dict) -> None:
        path = self.folder / f"{key.chat_id}.json"
        new = path.with_suffix(".new")
        new.write_text(json.dumps(kept))
        os.replace(new, path)

    async def set_state(self, key, state=None):
        self.write(key, {**self.read(key), "state": state.state if isinstance(state, State) else state})

    async def get_state(self, key):
        return self.read(key)["state"]

    async def set_data(self, key, data):
        self.write(key, {**self.read(key), "data": dict(data)})

    async def get_data(self, key):
        return self.read(key)["data"]

    async def close(self):
        pass


class Asking(StatesGroup):
    answer = State()


dispatcher = Dispatcher(storage=Files(os.environ["BENCH_DIR"]))


@dispatcher.message(CommandStart())
async def start(message: Message, state: FSMContext):
    await state.set_state(Asking.answer)
    await state.set_data({"answers": []})
    await message.answer(QUESTIONS[0])


@dispatcher.message(StateFilter(Asking.answer))
async def answer(message: Message, state: FSMContext):
    answers = [*(await state.get_data())["answers"], message.text]
    await state.set_data({"answers": answers})
    if len(answers) < len(QUESTIONS):
        await message.answer(QUESTIONS[len(answers)])
    else:
        await state.set_state(None)
        await message.answer("Thank you: " + ", ".join(answers))


@dispatcher.message()
async def echo(message: Message):
    await message.answer(message.text)


async def main():
    api = TelegramAPIServer.from_base(os.environ["BENCH_API"])
    bot = Bot(os.environ["BENCH_TOKEN"], session=AiohttpSession(api=api, limit=100))
    await dispatcher.start_polling(bot, polling_timeout=5, handle_signals=False)


uvloop.install()
asyncio.run(main())
