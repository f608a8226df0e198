import type { ShopLocale } from '../core/almanac/defaults.ts'

/** The locale in which this computer writes dates, if it is an English one: the app's words are English. */
export function localeHere(): string {
  const { locale } = Intl.DateTimeFormat().resolvedOptions()
  return locale.startsWith('en') ? locale : 'en-GB'
}

/**
 * Where this computer is, as far as it tells: what a new shop starts with, all of it editable. Inches and the dollar only
 * where they are in daily use.
 */
export function placeHere(): ShopLocale {
  const { timeZone, locale } = Intl.DateTimeFormat().resolvedOptions()
  const region = new Intl.Locale(locale).maximize().region ?? 'US'
  return {
    timeZone,
    units: region === 'US' || region === 'CA' ? 'inch' : 'millimetre',
    currency: currencies[region] ?? 'EUR',
  }
}

/** ISO 4217 currencies of some regions (ISO 3166-1). */
const currencies: Readonly<Record<string, string>> = {
  US: 'USD',
  CA: 'CAD',
  GB: 'GBP',
  AU: 'AUD',
  NZ: 'NZD',
  CH: 'CHF',
  JP: 'JPY',
  SE: 'SEK',
  NO: 'NOK',
  DK: 'DKK',
}
