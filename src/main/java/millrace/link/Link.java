// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.time.SystemClock;

/**
 * The byte path to one instrument, or to several on one line: it moves whole commands and whole
 * replies and knows no meaning.
 *
 * <p>Thread-safe: one question with its reply at a time, and {@link #exclusively} for several, also
 * between links that share a line ({@link #speaking}). A late reply never answers the next query.
 * After a time-out a socket is opened anew, and a serial line is drained until it is quiet: for as
 * long as a reply may take, if there is no better way. If the framing has a query to resynchronize
 * by, that must be answered first. Bytes that arrived before a query was sent are an error, because
 * then the reply before is in doubt.
 */
public final class Link implements AutoCloseable {
  private static final int MOST_LINES_DROPPED = 1000;

  private final SharedLinkChannel channel;
  private final Framing framing;
  private final LinkTimeouts timing;
  private final ReplyFrame frame;
  private final ReplyWait waiting;
  private final SystemClock clock = new SystemClock();
  private volatile Optional<Duration> lastReplyTook = Optional.empty();

  /**
   * A link that is opened at its first use.
   *
   * @param address where the instrument is
   * @param framing how commands and replies end
   * @param timing how long to wait
   * @param recorder hears every byte
   */
  public Link(LinkAddress address, Framing framing, LinkTimeouts timing, LinkRecorder recorder) {
    this(
        new SharedLinkChannel(address, Dialers.of(address), recorder, new SystemClock()),
        framing,
        timing);
  }

  Link(SharedLinkChannel channel, Framing framing, LinkTimeouts timing) {
    this.channel = channel;
    this.framing = framing;
    this.timing = timing;
    this.frame = framing.frame();
    this.waiting = new ReplyWait(channel, framing);
  }

  /**
   * A link over the same byte path with its own framing and time-outs, for instruments that share a
   * line.
   *
   * @param framing how its commands and replies end
   * @param timing how long it waits
   * @return the link; conversations on both exclude each other
   */
  public Link speaking(Framing framing, LinkTimeouts timing) {
    return new Link(channel, framing, timing);
  }

  /**
   * Where the instrument is.
   *
   * @return the address
   */
  public LinkAddress address() {
    return channel.address();
  }

  /**
   * How long this link waits.
   *
   * @return the time-outs
   */
  public LinkTimeouts timing() {
    return timing;
  }

  /** How long the last reply took from the end of its question, real time; empty before it. */
  public Optional<Duration> lastReplyTook() {
    return lastReplyTook;
  }

  /**
   * Counts how often the path was opened or resynchronized. When the count has grown, the
   * instrument may have been switched off in between: identity and settings are in doubt.
   *
   * @return 0 before the first question
   */
  public int epoch() {
    return channel.epoch();
  }

  /**
   * Opens the path if it is not open, and resynchronizes if a reply is outstanding.
   *
   * @return the {@link #epoch} of the next query, unless the link breaks at it
   * @throws InstrumentException if it cannot be opened or resynchronized
   */
  public int connect() {
    channel.lock();
    try {
      ready();
      return channel.epoch();
    } finally {
      channel.unlock();
    }
  }

  /**
   * Keeps other threads out of the link for a while.
   *
   * @param talk what to do
   * @param <T> what it gives
   * @return what it gave
   */
  public <T> T exclusively(ExclusiveLinkUse<T> talk) {
    channel.lock();
    try {
      return talk.run();
    } finally {
      channel.unlock();
    }
  }

  /**
   * Takes the link although another thread may be waiting on it, for lines that must be sent, such
   * as the safe state. The other thread is interrupted if it does not finish in time, unless its
   * lines must be sent, too.
   *
   * @param patience how long the other may go on
   * @param within how long is waited until it lets go
   * @param talk what to do
   * @param <T> what it gives
   * @return what it gave
   * @throws InstrumentException if the link cannot be obtained
   */
  public <T> T takingOver(Duration patience, Duration within, ExclusiveLinkUse<T> talk) {
    return new LinkTakeover(channel).over(patience, within, talk);
  }

  /**
   * Tells whether queries and replies are in step, so that the next reply belongs to the next
   * query.
   *
   * @return false while a late reply may be under way
   */
  public boolean inStep() {
    return exclusively(() -> !channel.outOfStep());
  }

  /**
   * Sends a line regardless of what came before, without resynchronizing and without regard to any
   * reply. If the path is closed, one try is made to open it. Replies are dropped. Afterwards
   * queries and replies count as out of step.
   *
   * @param line the line without its end
   * @param atMost how long a reply is waited for, real time
   * @throws InstrumentException if it could not be sent
   * @throws IllegalArgumentException if the line holds an end of line or is no Latin-1 text
   */
  public void sayBlind(String line, Duration atMost) {
    WireText.refuseHidden(line);
    exclusively(
        () -> {
          channel.open(timing);
          channel.doubt(framing);
          write(line);
          channel.ignore(atMost, timing.quiet());
          return Boolean.TRUE;
        });
  }

  /**
   * Sends a command that has no reply.
   *
   * @param command the command without its end
   * @throws InstrumentException if the link is broken
   * @throws IllegalArgumentException if the command holds an end of line or is no Latin-1 text
   */
  public void send(String command) {
    WireText.refuseHidden(command);
    channel.lock();
    try {
      ready();
      write(command);
    } finally {
      channel.unlock();
    }
  }

  /**
   * Sends a question and waits for one line.
   *
   * @param question the question without its end
   * @return the reply without its end
   * @throws InstrumentException if no whole reply came in time or the link is broken
   */
  public String ask(String question) {
    return ask(question, timing.reply());
  }

  /**
   * Sends a question and waits for one line.
   *
   * @param question the question without its end
   * @param atMost how long to wait, real time
   * @return the reply without its end
   * @throws InstrumentException if no whole reply came in time, if bytes came before that nobody
   *     had asked for, or if the link is broken
   * @throws IllegalArgumentException if the question holds an end of line or is no Latin-1 text
   */
  public String ask(String question, Duration atMost) {
    WireText.refuseHidden(question);
    channel.lock();
    try {
      ready();
      refuseLeftOver(question);
      write(question);
      return line(question, atMost);
    } finally {
      channel.unlock();
    }
  }

  /**
   * Sends a line and returns all that comes, as at a terminal: nothing is expected, and bytes that
   * came unrequested before are returned as well.
   *
   * @param line the line without its end
   * @param atMost how long to wait for the first byte, real time; what follows may pause for {@link
   *     LinkTimeouts#quiet}
   * @return the bytes as they came, one character a byte; empty if none did
   * @throws InstrumentException if the link is broken
   * @throws IllegalArgumentException if the line holds an end of line or is no Latin-1 text
   */
  public String say(String line, Duration atMost) {
    WireText.refuseHidden(line);
    return exclusively(
        () -> {
          ready();
          write(line);
          return channel.hear(atMost, timing.quiet(), framing.mostReplyBytes());
        });
  }

  /**
   * Waits for one more line of a reply that has several.
   *
   * @param question the question it belongs to, for messages
   * @param atMost how long to wait, real time
   * @return the next line
   * @throws InstrumentException if none came in time or the link is broken
   */
  public String nextLine(String question, Duration atMost) {
    return exclusively(
        () -> {
          ready();
          return line(question, atMost);
        });
  }

  /**
   * Sends a question and waits for a block of definite length (IEEE 488.2-1992, 8.7.9).
   *
   * @param question the question without its end
   * @param atMost how long to wait for the whole block, real time
   * @return what the block holds
   * @throws InstrumentException if the reply is no such block, did not come whole in time, or the
   *     link is broken
   */
  public byte[] askBlock(String question, Duration atMost) {
    WireText.refuseHidden(question);
    return exclusively(
        () -> {
          ready();
          refuseLeftOver(question);
          write(question);
          BlockFrame block = new BlockFrame(framing.replyEnd(), framing.mostReplyBytes());
          take(block, question, atMost);
          return block.bytes();
        });
  }

  /**
   * Checks that no unrequested bytes have arrived; to be called before readings are accepted.
   *
   * @throws InstrumentException if there are any: replies and queries are out of step
   */
  public void checkInStep() {
    exclusively(
        () -> {
          if (channel.epoch() > 0) {
            ready();
            refuseLeftOver("");
          }
          return Boolean.TRUE;
        });
  }

  private void write(String command) {
    if (!framing.rtu()) {
      channel.write(command, framing.commandEnd());
      return;
    }
    String request = RtuFrame.wire(command);
    channel.awaitSilence();
    channel.write(request, "");
    channel.busyFor(
        RtuFrame.characters(address(), request.length()).plus(RtuFrame.silence(address())));
  }

  private void ready() {
    channel.refuseWhileWaiting();
    channel.open(timing);
    if (channel.outOfStep()) {
      getInStep();
    }
    channel.used();
  }

  private void getInStep() {
    boolean blind = channel.lost() && framing.step().isEmpty() && channel.remembers();
    channel.drain(blind ? timing.reply() : timing.quiet(), timing.reply().multipliedBy(3));
    for (Framing.Step step : List.copyOf(channel.owed())) {
      boolean own = framing.step().filter(step::equals).isPresent();
      Deque<String> heard = new ArrayDeque<>();
      if (answers(step, heard)) {
        channel.owed().remove(step);
      } else if (own) {
        channel.lose(framing);
        throw strange(step, String.join("\n", heard));
      }
      channel.open(timing);
    }
    channel.inStep();
  }

  /** The error if resynchronizing fails: another instrument answers, or none. */
  private InstrumentException strange(Framing.Step step, String heard) {
    String question = WireText.quoted(step.question());
    if (!heard.isBlank()) {
      return new InstrumentException(
          trouble(
                  Kind.OUT_OF_STEP,
                  "cannot get in step: answered %s to %s"
                      .formatted(WireText.quoted(heard), question))
              .with(
                  step.wanted(),
                  "Swapped cables are the commonest slip: see which instrument has this address.")
              .with(new Asked(step.question(), heard, Duration.ZERO)));
    }
    return new InstrumentException(
        trouble(Kind.OUT_OF_STEP, "cannot get in step: " + came() + question)
            .with(
                "the answer that it gives otherwise",
                "Check the instrument's front panel, and that no other has taken its place."));
  }

  private String came() {
    String begun = frame.whole() ? "" : frame.begun();
    return begun.isEmpty()
        ? "no answer to "
        : "%s without an end came as answer to ".formatted(WireText.quoted(begun));
  }

  /**
   * Sends the query that no late reply can answer, and skips everything before its answer.
   *
   * @param last keeps the last that came
   */
  private boolean answers(Framing.Step step, Deque<String> last) {
    write(step.question());
    SystemClock.Deadline deadline = SystemClock.deadline(timing.reply());
    for (int dropped = 0; dropped < MOST_LINES_DROPPED && !deadline.passed(); dropped++) {
      frame.reset();
      if (!waiting.comes(frame, step.question(), deadline.left())) {
        return false;
      }
      last.add(frame.fault().isEmpty() ? frame.text() : "");
      if (last.size() > step.lines()) {
        last.remove();
      }
      if (last.size() == step.lines() && step.answer().test(String.join("\n", last))) {
        channel.drain(timing.quiet(), timing.reply());
        return true;
      }
    }
    return false;
  }

  private void refuseLeftOver(String question) {
    String rest = channel.leftOver(question);
    if (!rest.isEmpty()) {
      channel.lose(framing);
      String before = question.isEmpty() ? "" : " before " + WireText.quoted(question);
      throw new InstrumentException(
          trouble(Kind.OUT_OF_STEP, "%s came%s was asked".formatted(WireText.quoted(rest), before))
              .with("nothing", "What was read before is in doubt and has to be read again.")
              .with(new Asked(question, rest, Duration.ZERO)));
    }
  }

  private String line(String question, Duration atMost) {
    frame.reset();
    take(frame, question, atMost);
    if (framing.rtu()) {
      channel.busyFor(RtuFrame.silence(address()));
    }
    return frame.text();
  }

  /** Waits until a frame is whole; everything else is an error. */
  private void take(ReplyFrame taking, String question, Duration atMost) {
    Duration began = clock.elapsed();
    boolean whole = waiting.comes(taking, question, atMost);
    lastReplyTook = Optional.of(clock.elapsed().minus(began)).filter(t -> whole);
    if (taking.fault().isPresent()) {
      throw unusable(taking, question, taking.fault().get());
    }
    if (!whole) {
      throw late(taking, question, atMost);
    }
  }

  private InstrumentException late(ReplyFrame taking, String question, Duration atMost) {
    String begun = taking.begun();
    channel.lose(framing);
    String came =
        begun.isEmpty() ? "no reply" : "only " + WireText.quoted(begun) + " came as reply";
    return new InstrumentException(
        trouble(
                Kind.NO_REPLY,
                "%s to %s within %s"
                    .formatted(came, WireText.quoted(question), WireText.span(atMost)))
            .with("a whole reply", "Check cable, front panel and line ending.")
            .with(new Asked(question, begun, atMost)));
  }

  private InstrumentException unusable(ReplyFrame taking, String question, String fault) {
    String begun = taking.begun();
    channel.lose(framing);
    channel.breakOff();
    return new InstrumentException(
        trouble(
                Kind.WRONG_REPLY,
                "the reply to %s %s; it begins %s"
                    .formatted(WireText.quoted(question), fault, WireText.quoted(begun)))
            .with(
                taking.wanted(),
                framing.rtu() ? "Check rate, parity and cable." : "Check rate and line ending.")
            .with(new Asked(question, begun, Duration.ZERO)));
  }

  private InstrumentTrouble trouble(Kind kind, String found) {
    return InstrumentTrouble.of(kind, address().toString(), found);
  }

  /**
   * Notes that queries and replies are out of step, for example because a reply cannot belong to
   * its query; the link resynchronizes before the next query.
   */
  public void resynchronize() {
    exclusively(
        () -> {
          channel.lose(framing);
          return Boolean.TRUE;
        });
  }

  /**
   * Sets what is called repeatedly while a reply is awaited or this path is being reopened, in the
   * waiting thread. It must not use this path itself: that is refused as {@link Kind#BUSY}.
   *
   * @param act short; what it throws ends the waiting
   */
  public void whileWaiting(Runnable act) {
    channel.whileWaiting(act);
  }

  /** Closes for good, also for links that share the path; a question that waits is ended. */
  @Override
  public void close() {
    channel.closeForGood();
  }
}
