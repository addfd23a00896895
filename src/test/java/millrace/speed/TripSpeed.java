// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import millrace.quantity.NumberText;
import millrace.speed.SpokenNight.RoundTrip;

/**
 * What is said to instruments in the demonstration's night, counted and not timed: round trips for
 * each reading, what they are for, and what they would take over serial lines. What is said less
 * than before must be nothing that safety reads, so that each kind stands in a file of its own.
 */
final class TripSpeed implements SpeedPart {
  private static final Path NIGHT = Path.of("sequences", "overnight-characterization.yaml");
  private static final Path SMALL = Path.of("sequences", "quick-look.yaml");

  /** Start bit, eight bits, stop bit. */
  private static final double CHARACTER_S = 10 / 9600.0;

  private static final double TRIP_S = 20e-3;
  private static final String ASKED_SERIAL_S = "300 s";
  private static final Pattern NUMBERS =
      Pattern.compile("[-+]?[0-9]+([.][0-9]+)?([eE][-+]?[0-9]+)?");

  /** What a round trip is for. */
  private enum For {
    READING("readings", "READ\\?.*|MEAS:VOLT\\?.*|HUM\\?|TEMP\\?"),
    INTERLOCK("interlocks", "DOOR\\?|ALARM\\?|MEAS:CURR\\?"),
    STATUS(
        "whether instruments were switched off and on, and their complaints",
        "\\*ESR\\?|SYST:ERR\\?"),
    SETTING("conditions, settings and what they are by now", ".*");

    private final String words;
    private final Pattern last;

    For(String words, String last) {
      this.words = words;
      this.last = Pattern.compile(last);
    }

    /** By the last line of it. */
    static For of(RoundTrip trip) {
      String[] lines = trip.sent().split("\n");
      for (For each : values()) {
        if (each.last.matcher(lines[lines.length - 1]).matches()) {
          return each;
        }
      }
      return SETTING;
    }
  }

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    boolean whole = table.size(1, 0) > 0;
    SpokenNight night = SpokenNight.of(whole ? NIGHT : SMALL, table.folder().resolve("spoken"));
    String name = whole ? "the demonstration's night" : "a quick look";
    kept(night);
    Map<For, Long> counts =
        night.trips().stream()
            .collect(Collectors.groupingBy(For::of, TreeMap::new, Collectors.counting()));
    long looks = looksAtTemperatures(night);
    counts.merge(For.READING, -looks, Long::sum);
    counts.merge(For.INTERLOCK, looks, Long::sum);
    counted(table, "round trips of " + name, night.trips().size(), night, "1.5");
    counts.forEach((what, n) -> counted(table, "of these: " + what.words, n, night, ""));
    serial(table, name, night);
  }

  /** Temperatures that were asked for and are no readings of the logbook. */
  private static long looksAtTemperatures(SpokenNight night) {
    long asked = night.heard().stream().filter(l -> l.line().equals("TEMP?")).count();
    return asked - night.temperatures();
  }

  private static void counted(
      SpeedTable table, String work, long n, SpokenNight night, String asked) {
    table.row(
        work,
        Long.toString(n),
        "readings",
        Long.toString(night.readings()),
        NumberText.significant((double) n / night.readings(), 3),
        asked);
  }

  /** Computed from what was said, since a night over serial lines is a night. */
  private static void serial(SpeedTable table, String name, SpokenNight night) {
    double all = 0;
    double beyond = 0;
    double questions = 0;
    for (RoundTrip trip : night.trips()) {
      For what = For.of(trip);
      boolean needed = what == For.READING || what == For.INTERLOCK;
      all += seconds(trip.sent(), trip.received());
      beyond += needed ? beside(trip) : seconds(trip.sent(), trip.received());
      questions += needed ? beside(trip) : questions(trip);
    }
    table.row(
        "all that is said in %s over serial lines, 9600 baud, 20 ms a trip, computed"
            .formatted(name),
        NumberText.significant(all, 3),
        "",
        "",
        "",
        "");
    table.row(
        "of these: neither readings nor interlocks",
        NumberText.significant(beyond, 3),
        "",
        "",
        "",
        "");
    table.row(
        "of these: questions, without commands and their replies",
        NumberText.significant(questions, 3),
        "",
        "",
        "",
        ASKED_SERIAL_S);
  }

  private static double seconds(String sent, String received) {
    return TRIP_S + CHARACTER_S * (sent.length() + received.length());
  }

  /** A question right behind a command that is answered too waits with it for the line. */
  private static double questions(RoundTrip trip) {
    String[] lines = trip.sent().split("(?<=\n)");
    String[] replies = trip.received().split("(?<=\n)");
    int last = lines.length - 1;
    if (!lines[last].contains("?")) {
      return 0;
    }
    double behind = replies.length > 1 ? TRIP_S : 0;
    return seconds(lines[last], replies[replies.length - 1]) - behind;
  }

  /** What is asked in the same message behind the reading. */
  private static double beside(RoundTrip trip) {
    return CHARACTER_S * (behind(trip.sent()) + behind(trip.received()));
  }

  private static int behind(String message) {
    int at = message.indexOf(';');
    return at < 0 ? 0 : message.length() - at - 1;
  }

  /** Every kind of line as the instruments noted it, so that nothing that is missing is missed. */
  private static void kept(SpokenNight night) throws IOException {
    Map<String, Long> kinds =
        night.heard().stream()
            .collect(
                Collectors.groupingBy(
                    l -> l.instrument() + "," + NUMBERS.matcher(l.line()).replaceAll("#"),
                    TreeMap::new,
                    Collectors.counting()));
    StringBuilder out = new StringBuilder("instrument,line,times\n");
    kinds.forEach((line, n) -> out.append(line).append(',').append(n).append('\n'));
    Files.writeString(
        Files.createDirectories(Path.of("target", "benchmarks")).resolve("lines-of-a-night.csv"),
        out);
  }
}
