// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.time.TimeSource;

/**
 * A conversation as a text file, one event a line: when, what, and the bytes with everything that
 * is not plain ASCII escaped.
 *
 * <pre>
 * millrace recording 1
 * 2026-11-25T21:07:03.120Z open tcp 127.0.0.1:5025
 * 2026-11-25T21:07:03.121Z &gt; READ?\n
 * 2026-11-25T21:07:03.161Z &lt; +1.000012E-03\n
 * 2026-11-25T21:07:04.161Z drop x\x00
 * 2026-11-25T21:07:05.161Z broke connection reset
 * </pre>
 *
 * <p>Where one file holds several links, {@code open ADDRESS} and {@code with ADDRESS} say which
 * link the following lines belong to.
 */
public final class LinkRecording {
  /** The first line of the file. */
  static final String HEAD = "millrace recording 1";

  private LinkRecording() {}

  /** What can happen on a link. */
  enum What {
    OPEN("open"),
    WITH("with"),
    SENT(">"),
    RECEIVED("<"),
    DROPPED("drop"),
    BROKE("broke");

    private final String word;

    What(String word) {
      this.word = word;
    }
  }

  /**
   * One line.
   *
   * @param what what happened
   * @param bytes the bytes, or the address or reason, one character a byte
   */
  record Event(What what, String bytes) {}

  /**
   * Writes what a link does; each line is flushed, so that it survives a crash.
   *
   * @param out where to; not closed
   * @param time stamps the lines
   * @return the recorder; thread-safe
   * @throws UncheckedIOException from its methods, if the file cannot be written
   */
  public static LinkRecorder recorder(Writer out, TimeSource time) {
    return new Scribe(out, time);
  }

  /**
   * Writes what several links do into one file.
   *
   * @param out where to; not closed
   * @param time stamps the lines
   * @return the recorder of each address; all are thread-safe
   * @throws UncheckedIOException from their methods, if the file cannot be written
   */
  public static Function<LinkAddress, LinkRecorder> recorders(Writer out, TimeSource time) {
    Scribe scribe = new Scribe(out, time);
    return address -> new Signed(scribe, address.toString());
  }

  /**
   * One of several links in one file: writes which link the next line belongs to where that
   * changes.
   */
  private record Signed(Scribe scribe, String address) implements LinkRecorder {
    @Override
    public void opened(LinkAddress where) {
      scribe.line(address, What.OPEN, where.toString());
    }

    @Override
    public void sent(String bytes) {
      scribe.line(address, What.SENT, bytes);
    }

    @Override
    public void received(String bytes) {
      scribe.line(address, What.RECEIVED, bytes);
    }

    @Override
    public void dropped(String bytes) {
      scribe.line(address, What.DROPPED, bytes);
    }

    @Override
    public void broke(String why) {
      scribe.line(address, What.BROKE, why);
    }
  }

  private static final class Scribe implements LinkRecorder {
    private final Writer out;
    private final TimeSource time;
    private boolean begun;
    private String last = "";

    Scribe(Writer out, TimeSource time) {
      this.out = out;
      this.time = time;
    }

    private synchronized void line(String address, What what, String text) {
      if (!address.equals(last) && what != What.OPEN) {
        line(What.WITH, address);
      }
      last = address;
      line(what, text);
    }

    private synchronized void line(What what, String text) {
      try {
        if (!begun) {
          out.write(HEAD + "\n");
          begun = true;
        }
        out.write(time.now() + " " + what.word + " " + escaped(text) + "\n");
        out.flush();
      } catch (IOException e) {
        throw new UncheckedIOException("the recording cannot be written: " + e.getMessage(), e);
      }
    }

    @Override
    public void opened(LinkAddress address) {
      line(What.OPEN, address.toString());
    }

    @Override
    public void sent(String bytes) {
      line(What.SENT, bytes);
    }

    @Override
    public void received(String bytes) {
      line(What.RECEIVED, bytes);
    }

    @Override
    public void dropped(String bytes) {
      line(What.DROPPED, bytes);
    }

    @Override
    public void broke(String why) {
      line(What.BROKE, why);
    }
  }

  /**
   * Escapes bytes as in a recording.
   *
   * @param text one character a byte
   * @return the same with everything that is not plain ASCII escaped
   */
  public static String escaped(String text) {
    StringBuilder out = new StringBuilder(text.length() + 8);
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      switch (c) {
        case '\n' -> out.append("\\n");
        case '\r' -> out.append("\\r");
        case '\\' -> out.append("\\\\");
        default -> {
          if (c >= ' ' && c < 0x7f) {
            out.append(c);
          } else {
            out.append("\\x%02x".formatted(c & 0xff));
          }
        }
      }
    }
    return out.toString();
  }

  /**
   * Reads a recording.
   *
   * @param file its name for messages
   * @param text what it holds
   * @return its events in order
   * @throws BadInputException with every line that is no event
   */
  static List<Event> read(String file, String text) {
    InputFaultList faults = new InputFaultList();
    List<Event> events = new ArrayList<>();
    String[] lines = text.split("\\r?\\n", -1);
    if (!lines[0].equals(HEAD)) {
      faults.add(new FilePlace(file, 1, 1), "this is no recording", "'" + HEAD + "' as first line");
    }
    for (int i = 1; i < lines.length && faults.count() <= BadInputException.SHOWN; i++) {
      if (!lines[i].isBlank()) {
        event(lines[i], new FilePlace(file, i + 1, 1), events, faults);
      }
    }
    faults.throwIfAny();
    return events;
  }

  private static void event(
      String line, FilePlace place, List<Event> events, InputFaultList faults) {
    String[] words = line.split(" ", 3);
    for (What what : What.values()) {
      if (words.length == 3 && what.word.equals(words[1])) {
        try {
          events.add(new Event(what, unescaped(words[2])));
        } catch (IllegalArgumentException e) {
          faults.add(place, String.valueOf(e.getMessage()), "\\n, \\r, \\\\ or \\xHH");
        }
        return;
      }
    }
    faults.add(
        InputFault.of(place, WireText.quoted(line) + " is no event", "a time, a word and bytes"));
  }

  static String unescaped(String text) {
    StringBuilder out = new StringBuilder(text.length());
    int at = 0;
    while (at < text.length()) {
      char c = text.charAt(at++);
      if (c != '\\') {
        out.append(c);
        continue;
      }
      char kind = at < text.length() ? text.charAt(at++) : ' ';
      switch (kind) {
        case 'n' -> out.append('\n');
        case 'r' -> out.append('\r');
        case '\\' -> out.append('\\');
        case 'x' -> {
          out.append((char) hex(text, at));
          at += 2;
        }
        default ->
            throw new IllegalArgumentException("the escape \\" + kind + " is not known here");
      }
    }
    return out.toString();
  }

  private static int hex(String text, int at) {
    int high = at + 1 < text.length() ? Character.digit(text.charAt(at), 16) : -1;
    int low = at + 1 < text.length() ? Character.digit(text.charAt(at + 1), 16) : -1;
    if (high < 0 || low < 0) {
      throw new IllegalArgumentException("the escape \\x is not followed by two hex digits");
    }
    return 16 * high + low;
  }
}
