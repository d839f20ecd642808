// Six questions with grammY; sessions in its file storage, chats side by side with its runner.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(process.env.BENCH_MODULES + "/");
const { Bot, session } = require("grammy");
const { run, sequentialize } = require("@grammyjs/runner");
const { FileAdapter } = require("@grammyjs/storage-file");

const QUESTIONS = JSON.parse(readFileSync(new URL("questions.json", import.meta.url)));

const bot = new Bot(process.env.BENCH_TOKEN, { client: { apiRoot: process.env.BENCH_API } });
bot.use(sequentialize((context) => String(context.chat?.id)));
bot.use(session({
  initial: () => ({ answers: null }),
  storage: new FileAdapter({ dirName: process.env.BENCH_DIR }),
}));
bot.command("start", async (context) => {
  context.session.answers = [];
  await context.reply(QUESTIONS[0]);
});
bot.on("message:text", async (context) => {
  const { answers } = context.session;
  if (answers === null) return context.reply(context.message.text);
  answers.push(context.message.text);
  if (answers.length < QUESTIONS.length) return context.reply(QUESTIONS[answers.length]);
  context.session.answers = null;
  return context.reply(`Thank you: ${answers.join(", ")}`);
});
run(bot);
