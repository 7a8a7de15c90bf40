/**
 * Where things are. Everything that must be in one place is one spot; joining makes two spots one; a spot may have the
 * name of a place. Sets are merged by rank with shortened paths, so the work grows as the number of joins.
 */
import type { PlaceId } from '@couplet/engine';

export type Spot = number;

/** Everywhere: earth. */
export const ANYWHERE: Spot = -1;

export class Spots {
  private readonly parents: Spot[] = [];
  private readonly ranks: number[] = [];
  private readonly places: (PlaceId | undefined)[] = [];
  private readonly ofPlace = new Map<PlaceId, Spot>();

  fresh(): Spot {
    const spot = this.parents.length;
    this.parents.push(spot);
    this.ranks.push(0);
    this.places.push(undefined);
    return spot;
  }

  at(place: PlaceId): Spot {
    let spot = this.ofPlace.get(place);
    if (spot === undefined) {
      spot = this.fresh();
      this.places[spot] = place;
      this.ofPlace.set(place, spot);
    }
    return spot;
  }

  place(spot: Spot): PlaceId | undefined {
    return spot === ANYWHERE ? undefined : this.places[this.root(spot)];
  }

  /** Makes two spots one. Spots of different places stay two: what joins them is found by a rule. */
  unite(one: Spot, other: Spot): void {
    if (one === ANYWHERE || other === ANYWHERE) return;
    const a = this.root(one);
    const b = this.root(other);
    if (a === b) return;
    const placeA = this.places[a];
    const placeB = this.places[b];
    if (placeA !== undefined && placeB !== undefined && placeA !== placeB) return;
    const [above, below] = (this.ranks[a] as number) < (this.ranks[b] as number) ? [b, a] : [a, b];
    this.parents[below] = above;
    if (this.ranks[a] === this.ranks[b]) this.ranks[above] = (this.ranks[above] as number) + 1;
    this.places[above] = placeA ?? placeB;
  }

  private root(spot: Spot): Spot {
    let root = spot;
    while (this.parents[root] !== root) root = this.parents[root] as Spot;
    for (let step = spot; step !== root; ) {
      const next = this.parents[step] as Spot;
      this.parents[step] = root;
      step = next;
    }
    return root;
  }
}
