package millrace.link;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.locks.ReentrantLock;
import millrace.fault.InstrumentException;
import millrace.time.SystemClock;
import org.jspecify.annotations.Nullable;

/**
 * The byte path to one instrument, or to several on one line: it moves whole commands and whole
 * replies and knows no meaning.
 *
 * <p>Thread-safe: one question with its reply at a time, and {@link #exclusively} for several. A
 * reply that comes too late never answers the next question: after a time-out a socket is opened
 * anew, a serial line is drained until it is quiet.
 */
public final class Link implements AutoCloseable {
  private final LinkAddress address;
  private final Framing framing;
  private final Timing timing;
  private final Recorder recorder;
  private final ReentrantLock conversation = new ReentrantLock();
  private final LineFrame frame;
  private final byte[] buffer = new byte[4096];
  private int bufferAt;
  private int bufferEnd;
  private @Nullable Wire wire;
  private boolean outOfStep;
  private volatile boolean closed;

  /**
   * A link that opens itself when it is first used.
   *
   * @param address where the instrument is
   * @param framing how commands end
   * @param timing how long to wait
   * @param recorder hears every command and reply
   */
  public Link(LinkAddress address, Framing framing, Timing timing, Recorder recorder) {
    this.address = address;
    this.framing = framing;
    this.timing = timing;
    this.recorder = recorder;
    this.frame = new LineFrame(framing.mostReplyBytes());
  }

  /**
   * Where the instrument is.
   *
   * @return the address
   */
  public LinkAddress address() {
    return address;
  }

  /**
   * How long this link waits.
   *
   * @return the time-outs
   */
  public Timing timing() {
    return timing;
  }

  /** Something that needs the link for itself while it asks several questions. */
  public interface Talk<T> {
    /**
     * Asks and answers.
     *
     * @return what came of it
     */
    T run();
  }

  /**
   * Keeps other threads out of the link for a while.
   *
   * @param talk what to do
   * @param <T> what it gives
   * @return what it gave
   */
  public <T> T exclusively(Talk<T> talk) {
    conversation.lock();
    try {
      return talk.run();
    } finally {
      conversation.unlock();
    }
  }

  /**
   * Sends a command that has no reply.
   *
   * @param command the command without its end
   * @throws InstrumentException if the link is broken
   */
  public void send(String command) {
    exclusively(
        () -> {
          write(ready(), command);
          return Boolean.TRUE;
        });
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
   * @throws InstrumentException if no whole reply came in time or the link is broken
   */
  public String ask(String question, Duration atMost) {
    conversation.lock();
    try {
      Wire open = ready();
      drop(open, question);
      write(open, question);
      return line(open, question, atMost);
    } finally {
      conversation.unlock();
    }
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
    return exclusively(() -> line(ready(), question, atMost));
  }

  private Wire ready() {
    if (closed) {
      throw new InstrumentException(address + ": the link was closed.");
    }
    Wire open = wire;
    if (open == null) {
      open = address.open(timing);
      wire = open;
      bufferAt = bufferEnd = 0;
      frame.reset();
      outOfStep = open.remembersWhenReopened();
    }
    if (outOfStep) {
      drain(open);
    }
    return open;
  }

  private void drain(Wire open) {
    SystemClock.Deadline deadline = SystemClock.deadline(timing.reply().multipliedBy(3));
    try {
      while (open.read(buffer, timing.quiet()) > 0) {
        if (deadline.passed()) {
          breakOff();
          throw new InstrumentException(
              address
                  + ": the line never falls silent; expected silence before a question. Check what"
                  + " else talks on it.");
        }
      }
    } catch (IOException e) {
      throw broken("(drain)", e);
    }
    bufferAt = bufferEnd = 0;
    frame.reset();
    outOfStep = false;
  }

  /** Whatever lies there before a question was asked does not answer it. */
  private void drop(Wire open, String question) {
    try {
      while (bufferAt < bufferEnd || open.waiting() > 0) {
        if (bufferAt == bufferEnd) {
          bufferEnd = open.read(buffer, timing.quiet());
          bufferAt = 0;
        }
        if (bufferEnd > bufferAt) {
          recorder.dropped(
              new String(buffer, bufferAt, bufferEnd - bufferAt, StandardCharsets.ISO_8859_1));
        }
        bufferAt = bufferEnd = 0;
      }
      frame.reset();
    } catch (IOException e) {
      throw broken(question, e);
    }
  }

  private void write(Wire open, String command) {
    try {
      open.write((command + framing.commandEnd()).getBytes(StandardCharsets.ISO_8859_1));
      recorder.sent(command);
    } catch (IOException e) {
      throw broken(command, e);
    }
  }

  private String line(Wire open, String question, Duration atMost) {
    SystemClock.Deadline deadline = SystemClock.deadline(atMost);
    try {
      Duration left = atMost;
      while (true) {
        Optional<String> line = fromBuffer();
        if (line.isPresent()) {
          recorder.received(line.get());
          return line.get();
        }
        if (frame.tooLong()) {
          throw endless(question);
        }
        if (left.isZero()) {
          throw late(question, atMost);
        }
        bufferEnd = open.read(buffer, left);
        bufferAt = 0;
        left = deadline.left();
      }
    } catch (IOException e) {
      throw broken(question, e);
    }
  }

  private Optional<String> fromBuffer() {
    while (bufferAt < bufferEnd) {
      Optional<String> line = frame.take(buffer[bufferAt++]);
      if (line.isPresent()) {
        return line;
      }
      if (frame.tooLong()) {
        return Optional.empty();
      }
    }
    return Optional.empty();
  }

  private InstrumentException late(String question, Duration atMost) {
    String begun = frame.begun();
    outOfStep();
    String came =
        begun.isEmpty() ? "no reply" : "only " + WireText.quoted(begun) + " came as reply";
    return new InstrumentException(
        "%s: %s to %s within %s; expected a whole line. Check cable and front panel."
            .formatted(address, came, WireText.quoted(question), WireText.span(atMost)));
  }

  private InstrumentException endless(String question) {
    String begun = frame.begun();
    breakOff();
    return new InstrumentException(
        "%s: the reply to %s is longer than %d bytes without an end, it begins %s; expected a line."
                .formatted(
                    address,
                    WireText.quoted(question),
                    framing.mostReplyBytes(),
                    WireText.quoted(begun))
            + " Check rate and line ending.");
  }

  private InstrumentException broken(String question, IOException e) {
    breakOff();
    return new InstrumentException(
        "%s: the link broke at %s: %s. Check the cable; the link is opened anew at the next question."
            .formatted(address, WireText.quoted(question), e.getMessage()),
        e);
  }

  private void outOfStep() {
    Wire open = wire;
    if (open != null && open.remembersWhenReopened()) {
      outOfStep = true;
      frame.reset();
    } else {
      breakOff();
    }
  }

  /** Forgets the wire; the next question opens a new one. */
  private void breakOff() {
    Wire open = wire;
    wire = null;
    bufferAt = bufferEnd = 0;
    frame.reset();
    if (open != null) {
      open.close();
    }
  }

  /**
   * Drops the connection; the next question opens a new one. A driver does so when a reply shows
   * that questions and replies are out of step.
   */
  public void resynchronize() {
    exclusively(
        () -> {
          outOfStep();
          return Boolean.TRUE;
        });
  }

  /** Closes for good; a question that waits is ended. */
  @Override
  public void close() {
    closed = true;
    Wire open = wire;
    if (open != null) {
      open.close();
    }
  }
}
