// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;

/**
 * Takes a channel from another thread of this process, for lines that must be sent, such as the
 * safe state.
 */
record LinkTakeover(SharedLinkChannel channel) {
  /**
   * Uses the channel.
   *
   * @throws InstrumentException if the other thread does not release it in time
   */
  <T> T over(Duration patience, Duration within, ExclusiveLinkUse<T> talk) {
    take(patience, within);
    boolean before = channel.heldUrgently(true);
    try {
      return talk.run();
    } finally {
      channel.heldUrgently(before);
      channel.unlock();
    }
  }

  private void take(Duration patience, Duration within) {
    channel.want();
    try {
      if (!channel.tryLock(patience)) {
        channel.breakOffOthers();
        if (!channel.tryLock(within)) {
          throw new InstrumentException(
              trouble("another conversation does not let go of the link"));
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException(trouble("was stopped while waiting"), e);
    } finally {
      channel.wantNoMore();
    }
  }

  private InstrumentTrouble trouble(String found) {
    return InstrumentTrouble.of(Kind.STOPPED, channel.address().toString(), found);
  }
}
