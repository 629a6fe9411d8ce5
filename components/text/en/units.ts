/** Units as written beside a number. */
export const unit = {
  mm: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'in',
  kg: 'kg',
  g: 'g',
  lb: 'lb',
  kPa: 'kPa',
  bar: 'bar',
  psi: 'psi',
  deg: '°',
  celsius: '°C',
  min: 'min',
  h: 'h',
  count: '',
} as const
