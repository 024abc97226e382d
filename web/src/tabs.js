/**
 * This tab among the others of this browser: it writes, or it reads along and follows what the writer saves, and the
 * pen passes from one to the other when the person asks for it.
 */
import {listenForGrowth, watchPen} from './pen.js';

export class Tabs {
  /**
   * @param {{pen: import('./pen.js').Pen, saver: import('./saver.js').Saver,
   *          compactor: import('./compaction.js').Compactor, program: import('./program.js').Program,
   *          giveAllLines: () => Promise<void>, openAgain: () => Promise<void>}} parts
   *   `giveAllLines`: the program forgets its lines and is given all of them; `openAgain`: the same, with this
   *   install's id and witness read afresh, for a tab that is about to write
   */
  constructor({pen, saver, compactor, program, giveAllLines, openAgain}) {
    this.pen = pen;
    this.saver = saver;
    this.compactor = compactor;
    this.program = program;
    this.giveAllLines = giveAllLines;
    this.openAgain = openAgain;
    saver.isClosed = !pen.isHeld;
    compactor.saves = () => saver.idle();
    /** All lines are in the program. @type {() => void} */
    this.start = () => {};
    /** Readings of the store, one after the other; the first is the one at start. @type {Promise<void>} */
    this.reading = new Promise((/** @type {(value: void) => void} */ resolve) => {
      this.start = resolve;
    }).then(() => this.begin());
    this.isFollowQueued = false;
    // What is saved while this page reads for the first time is read after that.
    listenForGrowth(pen.store, () => this.follow());
  }

  begin() {
    if (this.pen.isHeld) this.compactor.start();
    watchPen(this.pen.store, () => {
      if (!this.pen.isHeld) location.reload();
    });
    this.pen.answerAsks({
      settle: () => this.settle(),
      stopWriting: () => this.stopWriting(),
      onUnclaimed: () => void this.takeBack(),
    });
  }

  /** The writer saved something. */
  follow() {
    if (this.pen.isHeld || this.isFollowQueued) return;
    this.isFollowQueued = true;
    this.queue(async () => {
      this.isFollowQueued = false;
      await this.giveAllLines();
    });
  }

  /** @param {() => Promise<void>} read */
  queue(read) {
    this.reading = this.reading.then(read).catch(() => {
      // The store did not answer; the lines come with the next news.
    });
    return this.reading;
  }

  /** The person asks for the pen in this tab. */
  async askForPen() {
    if (this.pen.isHeld) return;
    const outcome = await this.pen.ask();
    if (outcome !== 'taken') {
      this.program.send('pen', outcome);
      return;
    }
    await this.startWriting();
  }

  /** The tab that this one gave the pen to is gone. */
  async takeBack() {
    if (!this.pen.isHeld && (await this.pen.take())) await this.startWriting();
  }

  /** This page has just got the pen. */
  async startWriting() {
    try {
      await this.reading;
      // Numbers go on from what is stored, so everything is read before the first entry can be written.
      await this.openAgain();
    } catch {
      location.reload();
      return;
    }
    this.saver.isClosed = false;
    this.program.send('pen', 'writing');
    this.compactor.start();
  }

  async settle() {
    await this.compactor.current?.catch(() => {});
    await this.saver.idle();
  }

  /** @returns {boolean} */
  stopWriting() {
    if (!this.saver.isIdle || this.program.send('holds_unsaved') === 1) {
      this.program.send('pen', 'asked');
      return false;
    }
    this.saver.isClosed = true;
    this.compactor.stop();
    this.program.send('pen', 'reading');
    return true;
  }
}
