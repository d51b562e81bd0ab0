/** Our mark: a player, his stem, and the break. Decorative unless it is given a title. */
export function Mark({ size = 28, title }: { size?: number; title?: string }) {
  return (
    <svg
      width={size}
      height={size}
      viewBox="0 0 32 32"
      fill="none"
      strokeWidth="3.6"
      role="img"
      aria-label={title}
      aria-hidden={title === undefined}
    >
      <circle cx="9" cy="25.4" r="3.6" stroke="var(--board-route)" strokeWidth="3" />
      <path d="M9 21.4V13.2" stroke="var(--board-route)" />
      <path d="M4.4 13.2h3" stroke="var(--board-route)" strokeWidth="2.4" />
      <path d="M9 13.4 24.4 5.2" stroke="var(--mantine-color-pylon-5)" strokeLinecap="square" />
    </svg>
  );
}

export function Wordmark({ size = 26 }: { size?: number }) {
  return (
    <span
      style={{ display: 'inline-flex', alignItems: 'center', gap: '0.4em', fontSize: size * 0.68 }}
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
