import { close } from '@stemline/protocol/close';
import { decodeMessage } from '@stemline/protocol/codec';
import { frame, type RoomMessage } from '@stemline/protocol/message';
import * as encoding from 'lib0/encoding';
import { type Awareness, encodeAwarenessUpdate } from 'y-protocols/awareness';
import { WebsocketProvider } from 'y-websocket';
import type * as Y from 'yjs';
import { waitMs } from './backoff.ts';
import { sendOwnPresence } from './presence-sender.ts';
import { RoomSocket } from './room-socket.ts';

/** What a link tells of the room. */
export interface RoomLinkEvents {
  opening(): void;
  /** What the room lacked was sent, as this change of the connection. */
  answered(change: number): void;
  synced(): void;
  down(): void;
  /** The room does not want this page back (4400 to 4499). */
  closed(code: number): void;
  message(message: RoomMessage): void;
}

export interface RoomLink {
  /** The number under which an edit made now will be sent; null while there is no connection. */
  nextChange(): number | null;
  /** Ends a wait between two attempts; does nothing while the link stands. */
  retry(): void;
  destroy(): void;
}

export type OpenRoom = (
  boardId: string,
  doc: Y.Doc,
  awareness: Awareness,
  events: RoomLinkEvents,
) => RoomLink;

/** A silent room is taken for dead after 30 s; asking for its state this often keeps both sides sure. */
const askAgainMs = 12_000;

const roomsUrl = (): string =>
  `${location.protocol === 'https:' ? 'wss:' : 'ws:'}//${location.host}/rooms`;

/** A live link to a board's room over y-websocket. */
export const openRoom: OpenRoom = (boardId, doc, awareness, events) => {
  const provider = new WebsocketProvider(roomsUrl(), encodeURIComponent(boardId), doc, {
    awareness,
    connect: false,
    // A second tab must not carry a refused edit back in (rooms' SPEC: what is refused).
    disableBc: true,
    resyncInterval: askAgainMs,
    WebSocketPolyfill: RoomSocket,
  });
  const socket = (): RoomSocket | null => {
    const { ws } = provider;
    return ws instanceof RoomSocket && ws.readyState === WebSocket.OPEN ? ws : null;
  };

  const sendPresence = (update: Uint8Array): void => {
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, frame.awareness);
    encoding.writeVarUint8Array(encoder, update);
    socket()?.send(encoding.toUint8Array(encoder));
  };
  awareness.off('update', provider._awarenessUpdateHandler);
  const stopPresence = sendOwnPresence(awareness, sendPresence);
  provider.messageHandlers[frame.queryAwareness] = (encoder) => {
    encoding.writeVarUint(encoder, frame.awareness);
    encoding.writeVarUint8Array(encoder, encodeAwarenessUpdate(awareness, [awareness.clientID]));
  };
  for (const kind of [frame.hello, frame.saved, frame.refused, frame.findings, frame.event]) {
    provider.messageHandlers[kind] = (_encoder, decoder) => {
      const read = decodeMessage(decoder.arr);
      if (read.ok) {
        events.message(read.message);
      } else {
        // A word of the room that this build cannot read: the page is the older of the two.
        provider.disconnect();
        events.closed(close.clientTooOld);
      }
    };
  }

  provider.on('status', ({ status }) => {
    if (status === 'connecting') {
      events.opening();
      if (provider.ws instanceof RoomSocket) provider.ws.onAnswer = events.answered;
    }
    if (status === 'disconnected') events.down();
  });
  provider.on('sync', (synced: boolean) => {
    if (synced) events.synced();
  });
  provider.on('connection-close', () => {
    // Read right after this event: the provider waits no longer than this before it tries again.
    provider.maxBackoffTime = waitMs(provider.wsUnsuccessfulReconnects, Math.random());
    events.down();
  });
  provider.on('closed', ({ code }) => events.closed(code));

  const retry = (): void => provider.connect();
  // A network that went away leaves a socket that looks alive for half a minute. Trying again tells
  // at once; a server on this very machine answers all the same.
  const lost = (): void => {
    provider.disconnect();
    provider.connect();
  };
  window.addEventListener('online', retry);
  window.addEventListener('offline', lost);
  provider.connect();
  return {
    nextChange: () => {
      const open = socket();
      return open && open.changes + 1;
    },
    retry,
    destroy() {
      window.removeEventListener('online', retry);
      window.removeEventListener('offline', lost);
      stopPresence();
      provider.destroy();
    },
  };
};
