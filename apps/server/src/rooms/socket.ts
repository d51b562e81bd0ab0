import type { Buffer } from 'node:buffer';
import { close } from '@stemline/protocol/close';
import { WebSocket } from 'ws';

/**
 * A socket that ends with our own codes where ws would use the standard's: a plain y-websocket client
 * takes 1009 (too large), 1002 (not the protocol) or 1008 (in too many pieces) for a passing fault and offers the same frame for ever.
 */
export class RoomSocket extends WebSocket {
  /** Told before the close frame goes out, after which nothing may be said. */
  beforeClose: () => void = () => undefined;

  override close(code?: number, data?: string | Buffer): void {
    if (this.readyState === this.OPEN) this.beforeClose();
    if (code === 1009) super.close(close.tooLarge, 'the frame is too large');
    else if (code === 1002 || code === 1007 || code === 1008)
      super.close(close.malformed, 'not a WebSocket frame');
    else super.close(code, data);
  }
}
