import type { Severity } from '@stemline/read-rules/finding';
import { IconAlertOctagon, IconAlertTriangle, IconInfoCircle } from '@tabler/icons-react';
import classes from './severity.module.css';

const icons = { stop: IconAlertOctagon, warn: IconAlertTriangle, note: IconInfoCircle };

/** What a severity means to the one who reads it. */
export const severityWords: Record<Severity, string> = {
  stop: 'blocks sign-off',
  warn: 'to settle',
  note: 'for the record',
};

export function SeverityIcon({ severity, size = 16 }: { severity: Severity; size?: number }) {
  const Icon = icons[severity];
  return (
    <Icon size={size} stroke={2} className={classes.icon} data-severity={severity} aria-hidden />
  );
}

/** How many findings of each severity; nothing where there are none. */
export function FindingCounts({ counts }: { counts: Record<Severity, number> }) {
  const shown = (['stop', 'warn', 'note'] as const).filter((severity) => counts[severity] > 0);
  if (shown.length === 0) return <span className={classes.none}>none</span>;
  return (
    <span className={classes.counts}>
      {shown.map((severity) => (
        <span
          key={severity}
          className={classes.count}
          data-severity={severity}
          title={severityWords[severity]}
        >
          <SeverityIcon severity={severity} size={14} />
          {counts[severity]}
          <span className={classes.hidden}> {severityWords[severity]}</span>
        </span>
      ))}
    </span>
  );
}
