/** Our mark: a stem, its break, and the man who is read. Decorative: the name stands beside it. */
function Mark({ size }: { size: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" aria-hidden="true">
      <path d="M6 30V13.9l6 3.45V30z" fill="var(--board-route)" />
      <path d="M7 11.9 26.5.7v6.9L13 15.4z" fill="var(--mantine-color-pylon-5)" />
      <circle cx="22" cy="21" r="3.6" fill="var(--board-route)" />
    </svg>
  );
}

export function Wordmark({ size = 26 }: { size?: number }) {
  return (
    <span
      style={{
        display: 'inline-flex',
        alignItems: 'center',
        gap: '0.3em',
        fontSize: size * 0.7,
      }}
    >
      <Mark size={size} />
      <span
        style={{
          fontWeight: 720,
          fontStretch: '112%',
          letterSpacing: '-0.01em',
          color: 'var(--ink)',
        }}
      >
        Stemline
      </span>
    </span>
  );
}
