// Stands before telegram-test-api 4.2.1 and mends what a bot cannot work with. Everything else goes through.
//
//   node shim.mjs /DIRECTORY/WITH/NODE_MODULES
//
// | fault of the emulator                              | mended by                                              |
// |----------------------------------------------------|--------------------------------------------------------|
// | getUpdates ignores offset and timeout              | a queue of our own that keeps until acknowledged       |
// | an unknown method answers 500                      | answering 404 in the Bot API's form                    |
// | setWebhook as multipart answers 500                | reading it here; it never reaches the emulator         |
// | callback_query lacks chat_instance, message id     | adding them from the message that has the button       |
// | edit, answer, delete answer `result: null`         | answering `true`                                       |
// | its webhook has no secret header, a 401 ends it    | pushing from here, with the header, until taken        |
// | no files, commands, chat actions, getWebhookInfo   | adding them; a file's caption is kept as a message     |
import { createServer } from "node:http";
import { createRequire } from "node:module";

const require = createRequire(process.argv[2] + "/");
const TelegramServer = require("telegram-test-api");

const free = () =>
  new Promise((found) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const { port } = probe.address();
      probe.close(() => found(port));
    });
  });
const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

const inner = await free();
const emulator = new TelegramServer({ port: inner, host: "127.0.0.1", storeTimeout: 3600 });
await emulator.start();

const queues = new Map(); // token -> updates not yet acknowledged
const webhooks = new Map(); // token -> { url, secret_token }

function mended(update) {
  const query = update.callback_query;
  if (query) {
    query.chat_instance ??= "1";
    const asked = emulator.storage.botMessages.findLast((sent) =>
      (sent.message.reply_markup?.inline_keyboard ?? []).flat().some((key) => key.callback_data === query.data));
    if (asked) {
      const { text, reply_markup } = asked.message;
      const date = Math.floor(asked.time / 1000);
      Object.assign(query.message, { message_id: asked.messageId, date, text, reply_markup });
    }
  }
  return update;
}

function collect(token) {
  const queue = queues.get(token) ?? [];
  queues.set(token, queue);
  queue.push(...emulator.getUpdates(token).map(mended));
  return queue;
}

async function getUpdates(token, { offset = 0, limit = 100, timeout = 0 }) {
  const deadline = Date.now() + timeout * 1000;
  for (;;) {
    const queue = collect(token);
    while (queue.length > 0 && queue[0].update_id < offset) queue.shift();
    if (queue.length > 0 || Date.now() >= deadline) return queue.slice(0, limit);
    await sleep(10);
  }
}

async function push() {
  for (;;) {
    for (const [token, hook] of webhooks) {
      const queue = collect(token);
      while (queue.length > 0) {
        const headers = { "content-type": "application/json" };
        if (hook.secret_token) headers["x-telegram-bot-api-secret-token"] = hook.secret_token;
        const pushed = await fetch(hook.url, { method: "POST", headers, body: JSON.stringify(queue[0]) })
          .catch(() => null);
        if (!pushed?.ok) break;
        queue.shift();
      }
    }
    await sleep(10);
  }
}
push();

// The parameters of a form or of JSON, and whether there is a file.
async function parametersOf(request, body) {
  const type = request.headers["content-type"] ?? "";
  if (!type.startsWith("multipart/")) return { parameters: body.length ? JSON.parse(body) : {}, file: null };
  const form = await new Response(body, { headers: { "content-type": type } }).formData();
  const parameters = {};
  let file = null;
  for (const [name, value] of form) {
    if (typeof value === "string") parameters[name] = value;
    else file = { name: value.name, size: value.size };
  }
  return { parameters, file };
}

const own = {
  getUpdates: (token, parameters) => getUpdates(token, parameters),
  setWebhook: (token, parameters) => (webhooks.set(token, parameters), true),
  deleteWebhook: (token) => (webhooks.delete(token), true),
  getWebhookInfo: (token) => ({
    url: webhooks.get(token)?.url ?? "", has_custom_certificate: false, pending_update_count: collect(token).length,
  }),
  setMyCommands: () => true,
  sendChatAction: () => true,
  sendDocument: (token, parameters, file) =>
    emulator.addBotMessage({ ...parameters, chat_id: String(parameters.chat_id), text: parameters.caption ?? "", file }, token),
};
own.sendPhoto = own.sendDocument;
const through = ["getMe", "sendMessage", "editMessageText", "editMessageReplyMarkup", "answerCallbackQuery", "deleteMessage"];

const shim = createServer(async (request, response) => {
  const chunks = [];
  for await (const chunk of request) chunks.push(chunk);
  const body = Buffer.concat(chunks);
  const answer = (status, value) => {
    response.writeHead(status, { "content-type": "application/json" });
    response.end(JSON.stringify(value));
  };
  const [, token, method] = request.url.match(/^\/bot([^/]+)\/(\w+)/) ?? [];
  try {
    if (own[method]) {
      const { parameters, file } = await parametersOf(request, body);
      return answer(200, { ok: true, result: await own[method](token, parameters, file) });
    }
    if (!through.includes(method)) {
      return answer(404, { ok: false, error_code: 404, description: "Not Found" });
    }
    const passed = await fetch(`http://127.0.0.1:${inner}${request.url}`, {
      method: "POST", headers: { "content-type": "application/json" }, body,
    });
    const answered = await passed.json();
    if (answered.ok && answered.result === null) answered.result = true;
    answer(passed.status, answered);
  } catch (error) {
    answer(500, { ok: false, error_code: 500, description: String(error) });
  }
});
shim.listen(0, "127.0.0.1", () => console.log(`${shim.address().port} ${inner}`));
// The tests end it by closing its input, even where they end badly.
process.stdin.on("end", () => process.exit(0)).resume();
