// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import millrace.time.SystemClock;

/** Waits for replies and polls interlocks meanwhile. Needs the lock of its channel. */
final class ReplyWait {
  /** Time for bytes that came during the last poll, after the time-out. */
  private static final Duration LAST = Duration.ofMillis(1);

  private final SharedLinkChannel channel;
  private final Framing framing;

  ReplyWait(SharedLinkChannel channel, Framing framing) {
    this.channel = channel;
    this.framing = framing;
  }

  /** Waits until a frame is whole or faulty; false if the time is over before. */
  boolean comes(ReplyFrame taking, String question, Duration atMost) {
    if (channel.feed(taking) || taking.fault().isPresent()) {
      return true;
    }
    SystemClock.Deadline deadline = SystemClock.deadline(atMost);
    Duration left = atMost;
    while (!left.isZero()) {
      boolean listening = listening(taking, left);
      boolean last = listening || !channel.waits() || left.compareTo(BackgroundDialling.SLICE) <= 0;
      Duration wait = listening ? framing.silence() : last ? left : BackgroundDialling.SLICE;
      if (channel.more(wait, question, taking)) {
        if (channel.feed(taking) || taking.fault().isPresent()) {
          return true;
        }
        left = deadline.left();
      } else if (last) {
        return endedBySilence(taking);
      } else {
        lookAround();
        left = deadline.passed() ? LAST : deadline.left();
      }
    }
    return false;
  }

  /** The poll may interrupt the wait. */
  private void lookAround() {
    boolean goesOn = false;
    try {
      channel.meanwhile();
      goesOn = true;
    } finally {
      if (!goesOn) {
        channel.lose(framing);
      }
    }
  }

  /** Tells whether bytes came in time that silence may end. */
  private boolean listening(ReplyFrame taking, Duration left) {
    return framing.replyEnd() == ReplyEnd.SILENCE
        && taking instanceof LineFrame l
        && !l.empty()
        && framing.silence().compareTo(left) < 0;
  }

  private static boolean endedBySilence(ReplyFrame taking) {
    if (taking instanceof LineFrame line) {
      line.silent();
    }
    return taking.whole();
  }
}
