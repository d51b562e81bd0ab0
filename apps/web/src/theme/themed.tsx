import '@fontsource-variable/archivo/standard.css';
import '@mantine/core/styles.css';
import '@mantine/notifications/styles.css';
import './tokens.css';
import './base.css';
import './print.css';
import { MantineProvider } from '@mantine/core';
import { ModalsProvider } from '@mantine/modals';
import { Notifications } from '@mantine/notifications';
import type { ReactNode } from 'react';
import { cssVariables, theme } from './theme.ts';

/** Everything a screen needs to look like Stemline; follows the system until somebody chooses. */
export function Themed({ children }: { children: ReactNode }) {
  return (
    <MantineProvider theme={theme} cssVariablesResolver={cssVariables} defaultColorScheme="auto">
      <ModalsProvider labels={{ confirm: 'Go ahead', cancel: 'Cancel' }}>{children}</ModalsProvider>
      <Notifications position="bottom-right" autoClose={6000} />
    </MantineProvider>
  );
}
