import { mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { request } from "node:http";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type LoopbackServer, serve } from "../../electron/loopback-server.ts";
import { CONTENT_SECURITY_POLICY } from "../../electron/response-headers.ts";

let folder = "";
let server: LoopbackServer;
let port = 0;

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), "reedpath-loopback-"));
  const root = path.join(folder, "renderer");
  await mkdir(path.join(root, "assets"), { recursive: true });
  await writeFile(path.join(root, "index.html"), "<title>page</title>");
  for (const name of ["a.js", "a.mjs", "a.css", "a.svg", "a.json", "a.woff2", "a.wav", "a.bin", "a b.txt"]) {
    await writeFile(path.join(root, "assets", name), name);
  }
  await writeFile(path.join(folder, "secret.txt"), "secret");
  await symlink(path.join(folder, "secret.txt"), path.join(root, "assets", "link.txt"));
  await symlink(folder, path.join(root, "up"), "junction");
  server = await serve({ root, port: 0 });
  port = Number(new URL(server.url).port);
});
afterAll(async () => {
  await server.close();
  await rm(folder, { recursive: true });
});

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

/** Asks over HTTP with any header, also Host, which fetch would not let a test choose. */
function ask(target: string, headers: Record<string, string> = {}, method = "GET"): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request(
      { host: "127.0.0.1", port, path: target, method, headers, agent: false },
      (answer) => {
        const chunks: Buffer[] = [];
        answer.on("data", (chunk: Buffer) => chunks.push(chunk));
        answer.on("end", () =>
          resolve({
            status: answer.statusCode ?? 0,
            headers: answer.headers,
            body: Buffer.concat(chunks).toString(),
          }),
        );
      },
    );
    asked.on("error", reject);
    asked.end();
  });
}

/** Sends a request line that no client library would send, and gives the answer as it came. */
function askRaw(requestLine: string, host = `Host: 127.0.0.1:${port}\r\n`): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = net.connect(port, "127.0.0.1", () => {
      socket.write(`${requestLine}\r\n${host}Connection: close\r\n\r\n`);
    });
    let text = "";
    socket.on("data", (chunk) => {
      text += chunk.toString();
    });
    socket.on("end", () => resolve(text));
    socket.on("error", reject);
  });
}

// [F] Permissions Policy (W3C): a feature with an empty list is denied to everyone, our own page too.
const PERMISSIONS =
  "microphone=(self), camera=(), display-capture=(), geolocation=(), hid=(), midi=(), payment=(), serial=(), usb=()";

describe("what is served", () => {
  test("the page, at the root, under 127.0.0.1", async () => {
    expect(server.url).toBe(`http://127.0.0.1:${port}/`);
    expect(await ask("/")).toMatchObject({ status: 200, body: "<title>page</title>" });
    expect(await ask("/index.html?x=1")).toMatchObject({ status: 200, body: "<title>page</title>" });
  });

  // [F] RFC 9239 (2022): text/javascript for scripts; RFC 8081: font/woff2; RFC 8259: application/json.
  test.each([
    ["a.js", "text/javascript; charset=utf-8"],
    ["a.mjs", "text/javascript; charset=utf-8"],
    ["a.css", "text/css; charset=utf-8"],
    ["a.svg", "image/svg+xml; charset=utf-8"],
    ["a.json", "application/json; charset=utf-8"],
    ["a.woff2", "font/woff2"],
    ["a.wav", "audio/wav"],
    ["a.bin", "application/octet-stream"],
    ["a%20b.txt", "text/plain; charset=utf-8"],
  ])("%s as %s", async (name, type) => {
    const answer = await ask(`/assets/${name}`);
    expect(answer).toMatchObject({ status: 200, body: decodeURIComponent(name) });
    expect(answer.headers["content-type"]).toBe(type);
  });

  test("HEAD gives the length and no body", async () => {
    const answer = await ask("/assets/a.js", {}, "HEAD");
    expect(answer).toMatchObject({ status: 200, body: "" });
    expect(answer.headers["content-length"]).toBe("4"); // [calc] the file holds its own name, "a.js"
  });

  test("a second start can see that this is Reedpath, and which", async () => {
    const { body } = await ask("/reedpath-instance");
    expect(JSON.parse(body)).toEqual({
      product: "Reedpath",
      version: expect.stringMatching(/^\d+\.\d+\.\d+/),
    });
  });
});

describe("the guards", () => {
  test.each(["/", "/missing", "/reedpath-instance"])(
    "%s carries the headers of the desktop window",
    async (target) => {
      const { headers } = await ask(target);
      expect(headers["content-security-policy"]).toBe(CONTENT_SECURITY_POLICY);
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["referrer-policy"]).toBe("no-referrer");
      expect(headers["cross-origin-opener-policy"]).toBe("same-origin");
      expect(headers["permissions-policy"]).toBe(PERMISSIONS);
      expect(headers["cross-origin-resource-policy"]).toBe("same-origin");
      expect(Object.keys(headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
      // Neither what serves nor how it is made is told.
      expect([headers.server, headers["x-powered-by"], headers.etag]).toEqual([
        undefined,
        undefined,
        undefined,
      ]);
    },
  );

  test.each(["example.org", "example.org:47815", "127.0.0.1", "127.0.0.1:1", "localhost", "[::1]"])(
    "host %j is refused in plain text",
    async (host) => {
      const answer = await ask("/", { Host: host });
      expect(answer).toMatchObject({ status: 403, body: "Wrong host\n" });
      expect(answer.headers["content-type"]).toBe("text/plain; charset=utf-8");
    },
  );

  test.each([
    "http://example.org",
    "https://127.0.0.1:47815",
    "null",
    "http://127.0.0.1:1",
    "app://reedpath",
  ])("origin %s is refused", async (origin) => {
    expect(await ask("/", { Origin: origin })).toMatchObject({ status: 403, body: "Wrong origin\n" });
  });

  test("our own origin is let in", async () => {
    expect((await ask("/assets/a.js", { Origin: `http://127.0.0.1:${port}` })).status).toBe(200);
  });

  test("localhost is sent to 127.0.0.1, because it would be a second, empty history", async () => {
    const answer = await ask("/index.html?x=1", { Host: `localhost:${port}` });
    expect(answer.status).toBe(307);
    expect(answer.headers.location).toBe(`http://127.0.0.1:${port}/index.html?x=1`);
  });

  test("that way on never leads to another machine", async () => {
    const answer = await ask("//example.org/", { Host: `localhost:${port}` });
    expect(answer.headers.location).toBe(`http://127.0.0.1:${port}/example.org/`);
  });

  // [F] Fetch Metadata Request Headers (W3C): what a browser says of a request that a page of another site made.
  test.each([
    ["cross-site", "script"],
    ["cross-site", "empty"],
    ["cross-site", "iframe"],
    ["same-site", "image"],
    ["same-site", "audioworklet"],
  ])("a page of another site (%s) gets no %s from here", async (site, wanted) => {
    const answer = await ask("/assets/a.js", { "Sec-Fetch-Site": site, "Sec-Fetch-Dest": wanted });
    expect(answer).toMatchObject({ status: 403, body: "Wrong site\n" });
  });

  test.each([
    ["same-origin", "script"],
    ["none", "document"],
    ["cross-site", "document"],
  ])("the page itself and a link that leads here are answered (%s, %s)", async (site, wanted) => {
    const answer = await ask("/index.html", { "Sec-Fetch-Site": site, "Sec-Fetch-Dest": wanted });
    expect(answer.status).toBe(200);
  });

  test.each(["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "PROPFIND"])(
    "%s is refused",
    async (method) => {
      const answer = await ask("/", {}, method);
      expect(answer.status).toBe(405);
      expect(answer.headers.allow).toBe("GET, HEAD");
    },
  );
});

describe("paths sent by hand", () => {
  test.each([
    "/../secret.txt",
    "/assets/../../secret.txt",
    "/..%2fsecret.txt",
    "/%2e%2e/secret.txt",
    "/%2e%2e%2fsecret.txt",
    "/..%5csecret.txt",
    "/..\\secret.txt",
    "/assets/..%252f..%252fsecret.txt",
    "/index.html%00.txt",
    "/%",
    "/%ff",
    "//etc/hostname",
    "/%252e%252e/secret.txt",
    "/assets/%2e%2e%5c%2e%2e%5csecret.txt",
    "/assets/link.txt",
    "/up/secret.txt",
    "/up/",
    "/C:/secret.txt",
    "/index.html::$DATA",
    "/assets",
    "/assets/",
    "/.",
    "/..",
  ])("%s is not found", async (target) => {
    const answer = await askRaw(`GET ${target} HTTP/1.1`);
    expect(answer).toMatch(/^HTTP\/1\.1 404 /);
    expect(answer).not.toContain("secret");
    expect(answer).not.toContain("a.js");
  });

  test.each(["http://example.org/", "*", "index.html"])("the target %s is a bad request", async (target) => {
    expect(await askRaw(`GET ${target} HTTP/1.1`)).toMatch(/^HTTP\/1\.1 400 /);
  });

  test("two names of the machine, or none, are refused", async () => {
    const own = `Host: 127.0.0.1:${port}\r\n`;
    expect(await askRaw("GET / HTTP/1.1", `${own}Host: example.org\r\n`)).toMatch(/^HTTP\/1\.1 40[03] /);
    expect(await askRaw("GET / HTTP/1.1", "")).toMatch(/^HTTP\/1\.1 400 /);
    expect(await askRaw("GET / HTTP/1.0", "")).toMatch(/^HTTP\/1\.1 403 /);
    expect(await askRaw("GET / HTTP/1.1", `Host: a@127.0.0.1:${port}\r\n`)).toMatch(/^HTTP\/1\.1 40[03] /);
  });

  test.each(["nonsense", "GET", "GET / HTTP/9.9", `GET /${"a".repeat(20_000)} HTTP/1.1`])(
    "what is no request is refused with the same headers",
    async (line) => {
      const answer = await askRaw(line);
      expect(answer).toMatch(/^HTTP\/1\.1 400 Bad Request\r\n/);
      expect(answer).toContain(`Content-Security-Policy: ${CONTENT_SECURITY_POLICY}\r\n`);
      expect(answer).toContain("X-Content-Type-Options: nosniff\r\n");
      expect(answer).toMatch(/\r\n\r\nBad request\n$/);
    },
  );

  test.each([
    ["a tunnel", "CONNECT example.org:443 HTTP/1.1", ""],
    ["another protocol", "GET / HTTP/1.1", "Upgrade: websocket\r\nConnection: Upgrade\r\n"],
  ])("%s is cut off without an answer", async (_, line, more) => {
    expect(await askRaw(line, `Host: 127.0.0.1:${port}\r\n${more}`)).toBe("");
  });

  test("after all that the server still answers", async () => {
    expect((await ask("/")).status).toBe(200);
  });
});

test("it listens on the loopback address and no other", async () => {
  const others = Object.values(os.networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((address) => address.family === "IPv4" && !address.internal);
  const reached = await Promise.all(
    // 127.0.0.2 is this machine too, and present on Linux even where there is no network.
    [...others.map((address) => address.address), "127.0.0.2"].map(
      (host) =>
        new Promise<boolean>((resolve) => {
          const socket = net.connect({ host, port, timeout: 1000 }, () => resolve(true));
          for (const failure of ["error", "timeout"]) socket.on(failure, () => resolve(false));
          socket.on("close", () => socket.destroy());
        }),
    ),
  );
  expect(reached.length).toBeGreaterThan(0);
  expect(reached).not.toContain(true);
});
