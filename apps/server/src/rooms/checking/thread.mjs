// The thread of the rule check begins without tsx, whatever its server was started with.
import { register } from 'tsx/esm/api';

register();
await import('./thread.ts');
