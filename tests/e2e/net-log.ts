import { readFileSync } from "node:fs";

/**
 * The browser's own log of its network: every request of pages, workers and worklets, also of such as no page is told of
 * (beacons, sockets, prefetching, looking names up, peer connections), with who asked.
 */
export const netLogFlag = (file: string): string => `--log-net-log=${file}`;

/** What Chromium asks of its maker by itself, however it is told not to; it says nothing of the page. */
const BROWSERS_OWN = /(^|\.)(googleapis|google|gstatic|gvt1)\.com$/;

interface NetLogEvent {
  readonly type: number;
  readonly params?: Readonly<Record<string, unknown>>;
}

interface NetLog {
  readonly constants: { readonly logEventTypes: Readonly<Record<string, number>> };
  readonly events: readonly NetLogEvent[];
}

/** The log of a browser that was closed. One that was killed leaves its last line without an end. */
function netLog(file: string): NetLog {
  const text = readFileSync(file, "utf8");
  const whole = /\]\s*(,[^[\]]*)?\}\s*$/.test(text) ? text : `${text.trimEnd().replace(/,$/, "")}]}`;
  return JSON.parse(whole) as NetLog;
}

/** An address, or a name with or without a port; null for anything else. */
function addressOf(value: unknown): URL | null {
  if (typeof value !== "string") return null;
  const address = /^\w+:\/\//.test(value) ? value : `none://${value}`;
  if (!/^\w+:\/\/[\w.-]+/.test(address) || !URL.canParse(address)) return null;
  return new URL(address);
}

/** Where an event leads: the fields that name an address or a host in requests, connections and look-ups. */
const targetsOf = ({ params = {} }: NetLogEvent) =>
  [params.url, params.host, params.hostname, params.qname]
    .flatMap((value) => addressOf(value) ?? [])
    .filter(({ protocol }) => /^(https?|wss?|ftp|none):$/.test(protocol));

/** A request was made, allowed by the page's policy; anything else only looks a host up, or connects to it beforehand. */
const IS_REQUEST = /^(URL_REQUEST|CORS_REQUEST|QUIC_SESSION_WEBTRANSPORT)/;

/** Other places that were reached for; each host once, by name. */
export interface Strangers {
  readonly asked: readonly string[];
  /** Looked up or connected to, without a request. */
  readonly lookedUp: readonly string[];
}

/**
 * Everything that left, or tried to leave, for another place than this page's own server.
 *
 * @param file   log of a browser that was closed
 * @param origin the page's own, such as http://127.0.0.1:1234
 * @throws Error where the log does not even hold the page itself
 */
export function strangersIn(file: string, origin: string): Strangers {
  const { constants, events } = netLog(file);
  const names = new Map(Object.entries(constants.logEventTypes).map(([name, type]) => [type, name]));
  if (!events.some(({ params }) => String(params?.url).startsWith(`${origin}/`)))
    throw new Error(`the log of the network holds nothing of ${origin}`);
  const asked = new Set<string>();
  const reached = new Set<string>();
  for (const event of events) {
    const hosts = strangeHosts(event, origin);
    for (const host of hosts) reached.add(host);
    if (IS_REQUEST.test(names.get(event.type) ?? "")) for (const host of hosts) asked.add(host);
  }
  const lookedUp = [...reached].filter((host) => !asked.has(host));
  return { asked: [...asked].sort(), lookedUp: lookedUp.sort() };
}

function strangeHosts(event: NetLogEvent, origin: string): readonly string[] {
  const isOfPage = JSON.stringify(event.params ?? {}).includes(origin);
  const own = new URL(origin);
  return targetsOf(event)
    .filter(
      ({ hostname, port }) =>
        !(BROWSERS_OWN.test(hostname) && !isOfPage) &&
        !(hostname === own.hostname && (port === "" || port === own.port)),
    )
    .map(({ hostname }) => hostname);
}
