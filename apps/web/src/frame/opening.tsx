import { LoadingLines } from '../common/loading.tsx';

/** While a screen's code or the reader's account is on its way. */
export function Opening() {
  return (
    <div style={{ padding: '2rem', maxWidth: '40rem' }}>
      <LoadingLines what="the page" lines={4} />
    </div>
  );
}
