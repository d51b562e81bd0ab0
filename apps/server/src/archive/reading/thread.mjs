// A thread begins without tsx, whatever its server was started with.
import { register } from 'tsx/esm/api';

register();
await import('./thread.ts');
