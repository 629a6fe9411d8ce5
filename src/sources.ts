/**
 * Where rules and figures come from. `standing` says how far to trust the line: published (read in the source named),
 * derived (arithmetic or geometry from it), team policy (editable), project value (ours, no published figure),
 * common practice (no source), from memory. `title`: the publication as it is cited in any language; what is to be said
 * around it stands in `components/`.
 */
export const SOURCES = {
  'winter-2009': {
    standing: 'published',
    title: 'Winter D. Biomechanics and Motor Control of Human Movement, 4th ed. 2009, table 4.1, after Dempster 1955',
  },
  'drillis-contini-1966': {
    standing: 'published',
    title: 'Drillis R, Contini R. Body segment parameters. 1966, as printed in Winter, fig. 4.1',
  },
  'jensen-1986-1989': {
    standing: 'published',
    title: 'Jensen RK. Body segment mass, radius and radius of gyration proportions of children. J Biomech 1986; 1989',
  },
  'ansur-ii-2012': {
    standing: 'derived',
    title: 'Gordon CC et al. 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007, 2014',
  },
  'snyder-1977': {
    standing: 'derived',
    title: 'Snyder RG et al. Anthropometry of Infants, Children and Youths to Age 18, UM-HSRI-77-17, 1977',
  },
  'who-2006-2007': {
    standing: 'published',
    title: 'WHO Child Growth Standards 2006 and WHO Reference 2007 for 5-19 years, LMS tables',
  },
  'who-2008': {
    standing: 'published',
    title: 'WHO. Guidelines on the provision of manual wheelchairs in less resourced settings. 2008',
  },
  'who-basic-level': {
    standing: 'derived',
    title: 'WHO Wheelchair Service Training Package, basic level, 2012',
  },
  'upper-limb-2005': {
    standing: 'published',
    title: 'Preservation of upper limb function following spinal cord injury. J Spinal Cord Med 2005;28:434-70, fig. 2',
  },
  statics: { standing: 'derived', title: '' },
  'gas-law': {
    standing: 'derived',
    title: 'ISO 2533, US Standard Atmosphere 1976',
  },
  'iso-898-1': {
    standing: 'published',
    title: 'ISO 898-1:2013; ISO 4014, ISO 4017; ISO 272',
  },
  'hoffman-2003': { standing: 'published', title: 'Hoffman MD et al. Am J Phys Med Rehabil 2003;82:880-9' },
  'abbassi-1998': { standing: 'published', title: 'Abbassi V. Growth and normal puberty. Pediatrics 1998;102:507-11' },
  'chair-papers': { standing: 'published', title: '' },
  'team-policy': { standing: 'team policy', title: '' },
  'project-value': { standing: 'project value', title: '' },
  'common-practice': { standing: 'common practice', title: '' },
  'from-memory': { standing: 'from memory', title: '' },
} as const satisfies Readonly<Record<string, { standing: string; title: string }>>

export type SourceKey = keyof typeof SOURCES
