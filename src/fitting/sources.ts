export { SOURCES, type SourceKey } from '../sources.ts'
