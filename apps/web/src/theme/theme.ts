import {
  type CSSVariablesResolver,
  createTheme,
  defaultVariantColorsResolver,
  type MantineThemeOverride,
  type VariantColorsResolver,
} from '@mantine/core';
import { dark, gray, pylon, red, stem } from './colors.ts';

const family =
  "'Archivo Variable', system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif";

/** Filled buttons carry dark text in the dark scheme, where stem and red themselves are light. */
const variantColorResolver: VariantColorsResolver = (input) => {
  const colors = defaultVariantColorsResolver(input);
  return input.variant === 'filled' && ['stem', 'red'].includes(input.color ?? 'stem')
    ? { ...colors, color: 'var(--on-stem)' }
    : colors;
};

export const theme: MantineThemeOverride = createTheme({
  colors: { stem, pylon, red, gray, dark },
  primaryColor: 'stem',
  primaryShade: { light: 7, dark: 3 },
  white: '#ffffff',
  black: '#141d1f',
  fontFamily: family,
  fontFamilyMonospace: "ui-monospace, 'SF Mono', 'Cascadia Mono', Menlo, Consolas, monospace",
  headings: {
    fontFamily: family,
    fontWeight: '680',
    textWrap: 'balance',
    sizes: {
      h1: { fontSize: '1.625rem', lineHeight: '1.2' },
      h2: { fontSize: '1.1875rem', lineHeight: '1.3' },
      h3: { fontSize: '1rem', lineHeight: '1.35' },
      h4: { fontSize: '0.875rem', lineHeight: '1.4' },
    },
  },
  fontSizes: { xs: '0.75rem', sm: '0.84375rem', md: '0.9375rem', lg: '1.0625rem', xl: '1.25rem' },
  spacing: { xs: '0.5rem', sm: '0.75rem', md: '1rem', lg: '1.5rem', xl: '2.25rem' },
  radius: { xs: '3px', sm: '5px', md: '8px', lg: '12px', xl: '18px' },
  defaultRadius: 'sm',
  cursorType: 'pointer',
  focusRing: 'auto',
  respectReducedMotion: true,
  variantColorResolver,
  components: {
    // Nearly every field is needed; the few that are not say so in their label.
    InputWrapper: { defaultProps: { withAsterisk: false } },
    Button: { defaultProps: { size: 'sm' } },
    ActionIcon: { defaultProps: { variant: 'subtle', color: 'gray' } },
    TextInput: { defaultProps: { size: 'sm' } },
    Modal: {
      defaultProps: {
        radius: 'md',
        overlayProps: { backgroundOpacity: 0.45 },
        closeButtonProps: { 'aria-label': 'Close' },
        // The heading bar of a dialog is no banner of the page.
        attributes: { header: { role: 'presentation' } },
        styles: { title: { fontSize: '1.1875rem', fontWeight: 670, fontStretch: '108%' } },
      },
    },
    Menu: {
      defaultProps: { shadow: 'md', position: 'bottom-end', withInitialFocusPlaceholder: false },
    },
    Tooltip: {
      defaultProps: {
        openDelay: 350,
        withArrow: true,
        events: { hover: true, focus: true, touch: false },
      },
    },
    SegmentedControl: { styles: { root: { background: 'var(--sunk)' } } },
    Badge: { defaultProps: { radius: 'xs', variant: 'light' } },
    Paper: { defaultProps: { radius: 'md', withBorder: true } },
  },
});

/** What Mantine itself reads; the app's own names are in `tokens.css`. */
export const cssVariables: CSSVariablesResolver = () => ({
  variables: {},
  light: {
    '--mantine-color-body': '#f6f8f8',
    '--mantine-color-dimmed': '#526162',
    '--mantine-color-anchor': stem[7],
    '--mantine-color-error': red[7],
    '--mantine-color-placeholder': '#6a797a',
  },
  dark: {
    '--mantine-color-body': '#11191c',
    '--mantine-color-dimmed': '#9fadaf',
    '--mantine-color-anchor': stem[2],
    '--mantine-color-error': red[3],
    '--mantine-color-placeholder': '#8a999c',
  },
});
