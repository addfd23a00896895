// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.LinkedHashSet;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.ReentrantLock;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.time.SystemClock;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * The byte path that all links to one address share: its lock, whether it is open, received bytes
 * that were not used yet, and whether late replies may still come.
 *
 * <p>Everything but {@link #breakOff} and {@link #closeForGood} needs the lock.
 */
final class SharedLinkChannel {
  private final LinkAddress address;
  private final LinkRecorder recorder;
  private final TimeSource pauses;

  /** Fair, so that two threads that make instruments on one line safe take turns. */
  private final ReentrantLock lock = new ReentrantLock(true);

  /** The number of threads that want the path for lines that must be sent. */
  private final AtomicInteger urgent = new AtomicInteger();

  private final BackgroundDialling dialling;
  private volatile boolean heldUrgently;
  private final byte[] in = new byte[4096];
  private byte[] out = new byte[256];
  private int inAt;
  private int inEnd;
  private volatile @Nullable Wire wire;
  private volatile boolean closed;
  private final AtomicInteger epoch = new AtomicInteger();
  private volatile Runnable meanwhile = () -> {};
  private boolean waiting;
  private boolean outOfStep;
  private boolean fresh;
  private boolean lost;

  /** Until when a line is busy whose frames are separated by silence. */
  private SystemClock.Deadline busy = SystemClock.deadline(Duration.ZERO);

  /** The resynchronizing queries of links whose reply is outstanding. */
  private final Set<Framing.Step> owed = new LinkedHashSet<>();

  SharedLinkChannel(
      LinkAddress address, Wire.Dialer dialer, LinkRecorder recorder, TimeSource pauses) {
    this.address = address;
    this.recorder = recorder;
    this.pauses = pauses;
    this.dialling = new BackgroundDialling(dialer, this::meanwhile);
  }

  LinkAddress address() {
    return address;
  }

  /**
   * How often the path was opened or resynchronized; a change means that all earlier settings are
   * in doubt.
   */
  int epoch() {
    return epoch.get();
  }

  void lock() {
    lock.lock();
  }

  void unlock() {
    lock.unlock();
  }

  boolean tryLock(Duration patience) throws InterruptedException {
    return lock.tryLock(patience.toNanos(), TimeUnit.NANOSECONDS);
  }

  /**
   * From here on an attempt to open the path gives up, so that the path is free for lines that must
   * be sent.
   */
  void want() {
    urgent.incrementAndGet();
  }

  void wantNoMore() {
    urgent.decrementAndGet();
  }

  /**
   * Notes whether the holder of the lock sends lines that must be sent; returns the earlier value.
   */
  boolean heldUrgently(boolean now) {
    boolean before = heldUrgently;
    heldUrgently = now;
    return before;
  }

  /** Interrupts the conversation of another thread, unless its lines must be sent. */
  void breakOffOthers() {
    if (!heldUrgently) {
      breakOff();
    }
  }

  private boolean mustLetGo() {
    return closed || (urgent.get() > 0 && !heldUrgently);
  }

  /** Tells whether late replies must be cleared away before anything is asked. */
  boolean outOfStep() {
    return outOfStep;
  }

  /** Tells whether a late reply may still come, on a line that outlives the conversation. */
  boolean lost() {
    return lost;
  }

  Set<Framing.Step> owed() {
    return owed;
  }

  /** Tells whether bytes of an earlier conversation can still come on the open path. */
  boolean remembers() {
    Wire open = wire;
    return open != null && open.remembersWhenReopened();
  }

  /** Tells whether {@link #more} takes its time where nothing comes. */
  boolean waits() {
    Wire open = wire;
    return open == null || open.waits();
  }

  void inStep() {
    outOfStep = false;
    lost = false;
    if (!fresh) {
      epoch.incrementAndGet();
    }
  }

  /** The first question since the path was opened or brought in step is about to be asked. */
  void used() {
    fresh = false;
  }

  /** Opens the path if it is not open. */
  void open(LinkTimeouts timing) {
    if (closed) {
      throw new InstrumentException(
          InstrumentTrouble.of(Kind.STOPPED, address.toString(), "the link was closed"));
    }
    if (wire == null) {
      Wire dialled = epoch.get() == 0 ? dialling.dial(timing) : dialAgain(timing);
      wire = dialled;
      if (closed) {
        dialled.close();
      }
      epoch.incrementAndGet();
      fresh = true;
      inAt = inEnd = 0;
      outOfStep |= dialled.remembersWhenReopened() || !owed.isEmpty();
      recorder.opened(address);
    }
  }

  private Wire dialAgain(LinkTimeouts timing) {
    LinkTimeouts.Reopening reopening = timing.reopening();
    for (int failed = 1; ; failed++) {
      try {
        return dialling.dial(timing);
      } catch (InstrumentException e) {
        if (failed >= reopening.tries() || mustLetGo()) {
          throw again(e, failed);
        }
        pause(reopening.pauseAfter(failed));
      }
    }
  }

  private static InstrumentException again(InstrumentException e, int failed) {
    return e.trouble().map(t -> new InstrumentException(t.attempt(failed, failed), e)).orElse(e);
  }

  void whileWaiting(Runnable act) {
    meanwhile = act;
  }

  /** Calls what is to be called during waits; it must not use this path. */
  void meanwhile() {
    waiting = true;
    try {
      meanwhile.run();
    } finally {
      waiting = false;
    }
  }

  /** Refuses use of this path during its own wait. */
  void refuseWhileWaiting() {
    if (waiting) {
      throw new InstrumentException(
          InstrumentTrouble.of(
              Kind.BUSY, address.toString(), "the link is waited for in another matter"));
    }
  }

  private void pause(Duration span) {
    try {
      for (Duration left = span;
          !left.isZero() && !left.isNegative() && !mustLetGo();
          left = left.minus(BackgroundDialling.SLICE)) {
        pauses.sleep(
            left.compareTo(BackgroundDialling.SLICE) < 0 ? left : BackgroundDialling.SLICE);
        meanwhile();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException(
          InstrumentTrouble.of(Kind.STOPPED, address.toString(), "was stopped while it waited"), e);
    }
  }

  /** Notes that the line still transmits what was sent last and must be silent afterwards. */
  void busyFor(Duration span) {
    busy = SystemClock.deadline(span);
  }

  /** Waits until the line was silent for as long as it must be. */
  void awaitSilence() {
    while (!busy.passed() && !mustLetGo()) {
      pause(busy.left());
    }
  }

  private Wire openWire() throws IOException {
    Wire open = wire;
    if (open == null) {
      throw new IOException("it was broken off");
    }
    return open;
  }

  /** Sends a command and its end in one piece. */
  void write(String command, String end) {
    int n = command.length() + end.length();
    if (n > out.length) {
      out = new byte[2 * n];
    }
    for (int i = 0; i < command.length(); i++) {
      out[i] = (byte) command.charAt(i);
    }
    for (int i = 0; i < end.length(); i++) {
      out[command.length() + i] = (byte) end.charAt(i);
    }
    try {
      openWire().write(out, n);
    } catch (IOException e) {
      throw broken(command, "", e);
    }
    if (recorder != LinkRecorder.NONE) {
      recorder.sent(command + end);
    }
  }

  /** Lets a frame take what is there; tells whether it is whole. */
  boolean feed(ReplyFrame frame) {
    if (inAt < inEnd) {
      inAt = frame.take(in, inAt, inEnd);
    }
    return frame.whole();
  }

  /** Waits for more bytes, once all are used; tells whether any came in time. */
  boolean more(Duration atMost, String command, ReplyFrame frame) {
    try {
      int n = openWire().read(in, atMost);
      inAt = 0;
      inEnd = n;
      if (n > 0 && recorder != LinkRecorder.NONE) {
        recorder.received(text(0, n));
      }
      return n > 0;
    } catch (IOException e) {
      throw broken(command, frame.begun(), e);
    }
  }

  /**
   * Drops all that comes until nothing has come for a while or the time is over; an unfinished line
   * is left as it is.
   */
  void ignore(Duration first, Duration quiet) {
    SystemClock.Deadline deadline = SystemClock.deadline(first.plus(quiet));
    inAt = inEnd = 0;
    try {
      for (int n = openWire().read(in, first);
          n > 0 && !deadline.passed();
          n = openWire().read(in, quiet)) {
        recorder.dropped(text(0, n));
      }
    } catch (IOException e) {
      throw broken("", "", e);
    }
  }

  /** Returns all that comes until nothing has come for a while or there is enough of it. */
  String hear(Duration first, Duration quiet, int most) {
    StringBuilder heard = new StringBuilder(text(inAt, inEnd));
    inAt = inEnd = 0;
    try {
      int n = openWire().read(in, heard.isEmpty() ? first : quiet);
      while (n > 0) {
        recorder.received(text(0, n));
        heard.append(text(0, n));
        n = heard.length() < most ? openWire().read(in, quiet) : 0;
      }
      return heard.toString();
    } catch (IOException e) {
      throw broken("", heard.toString(), e);
    }
  }

  private String text(int from, int to) {
    return new String(in, from, to - from, StandardCharsets.ISO_8859_1);
  }

  /**
   * Removes bytes that came unrequested.
   *
   * @return those bytes, without line ends that belong to the reply before; usually empty
   */
  String leftOver(String command) {
    try {
      if (inAt == inEnd && openWire().waiting() == 0) {
        return "";
      }
      String rest = text(inAt, inEnd);
      if (openWire().waiting() > 0) {
        int n = openWire().read(in, Duration.ofMillis(1));
        rest += text(0, n);
      }
      inAt = inEnd = 0;
      if (rest.chars().allMatch(c -> c == '\r' || c == '\n')) {
        return "";
      }
      recorder.dropped(rest);
      return rest;
    } catch (IOException e) {
      throw broken(command, "", e);
    }
  }

  /** Reads and drops until nothing comes for a while. */
  void drain(Duration quiet, Duration atMost) {
    SystemClock.Deadline deadline = SystemClock.deadline(atMost);
    if (inAt < inEnd) {
      recorder.dropped(text(inAt, inEnd));
    }
    inAt = inEnd = 0;
    try {
      for (int n = sliced(quiet); n > 0; n = sliced(quiet)) {
        recorder.dropped(text(0, n));
        if (deadline.passed()) {
          breakOff();
          throw new InstrumentException(
              InstrumentTrouble.of(
                      Kind.OUT_OF_STEP, address.toString(), "the line never falls silent")
                  .with("silence before a question", "Check what else talks on it."));
        }
      }
    } catch (IOException e) {
      throw broken("", "", e);
    }
  }

  /** Waits for bytes and polls meanwhile. */
  private int sliced(Duration atMost) throws IOException {
    Duration left = atMost;
    while (waits() && left.compareTo(BackgroundDialling.SLICE) > 0) {
      int n = openWire().read(in, BackgroundDialling.SLICE);
      if (n > 0) {
        return n;
      }
      left = left.minus(BackgroundDialling.SLICE);
      meanwhile();
    }
    return openWire().read(in, left);
  }

  /**
   * Notes that a reply is outstanding that will not be awaited: it must not answer the next query.
   */
  void lose(Framing framing) {
    doubt(framing);
    Wire open = wire;
    if (open != null && !open.remembersWhenReopened()) {
      breakOff();
    }
  }

  /** The same where the path stays open for now. */
  void doubt(Framing framing) {
    lost = true;
    framing.step().ifPresent(owed::add);
    outOfStep = true;
  }

  InstrumentException broken(String command, String begun, IOException e) {
    breakOff();
    outOfStep = true;
    recorder.broke(String.valueOf(e.getMessage()));
    String found =
        command.isEmpty()
            ? "the link broke: " + e.getMessage()
            : "the link broke at " + WireText.quoted(command) + ": " + e.getMessage();
    return new InstrumentException(
        InstrumentTrouble.of(Kind.BROKEN, address.toString(), found)
            .with("", "Check the cable; the link is opened again at the next question.")
            .with(new Asked(command, begun, Duration.ZERO)),
        e);
  }

  /** Drops the connection, from any thread; the next question opens a new one. */
  void breakOff() {
    Wire open = wire;
    wire = null;
    if (open != null) {
      open.close();
    }
  }

  void closeForGood() {
    closed = true;
    breakOff();
  }
}
