export type { Seconds } from './stamp.ts';
export type { Track, TrackPoint } from './tracks.ts';
