import { photoSeen } from '../../backend/job';
import type { ProposalView } from '../../bindings/ProposalView';
import { isYesNo, type ReadingFields } from './reading';

/** What the answer depends on. */
type Asked = Pick<ReadingFields, 'photos' | 'mode' | 'unit' | 'range'>;

/** What the photo of a reading seems to show. It arrives when it arrives: nobody waits for it. */
export class Proposal {
  now = $state.raw<ProposalView | null>(null);
  asking = $state(false);
  /** The newest question; an older one's answer is of no use any more. */
  #asked = 0;

  /** Asks anew for the last photo, or drops what was proposed. */
  async ask(job: string, { photos, mode, unit, range }: Asked): Promise<void> {
    const photo = photos.at(-1);
    this.#asked += 1;
    const asked = this.#asked;
    if (this.now?.photo !== photo) this.now = null;
    this.asking = false;
    if (photo === undefined || isYesNo(mode)) return void (this.now = null);
    this.asking = this.now === null;
    // A photo that can't be read is one whose number is typed.
    const answer = await photoSeen(job, { photo, mode, unit, range }).catch(() => null);
    if (asked !== this.#asked) return;
    this.now = answer;
    this.asking = false;
  }
}
