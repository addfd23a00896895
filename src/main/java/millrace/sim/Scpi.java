package millrace.sim;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import millrace.quantity.Numbers;

/**
 * The command side of an SCPI-1999 instrument: long and short headers, several commands in one
 * line, common commands of IEEE 488.2, an error queue. Headers are given in the notation of the
 * standard, upper case for the short form. Guarded by the caller's lock.
 */
final class Scpi {
  private static final int LONGEST_QUEUE = 20;

  private final Map<String, Function<String, Optional<String>>> commands = new LinkedHashMap<>();
  private final ArrayDeque<String> errors = new ArrayDeque<>();
  private int events;

  Scpi(String identity, Runnable reset) {
    on("*IDN?", a -> Optional.of(identity));
    on("*RST", a -> done(reset));
    on("*CLS", a -> done(this::clear));
    on("*OPC?", a -> Optional.of("1"));
    on("*OPC", a -> done(() -> events |= 1));
    on("*WAI", a -> Optional.empty());
    on("*TST?", a -> Optional.of("0"));
    on("*STB?", a -> Optional.of(errors.isEmpty() ? "0" : "4"));
    on("*ESR?", a -> Optional.of(takeEvents()));
    on("SYSTem:ERRor[:NEXT]?", a -> Optional.of(nextError()));
    on("SYSTem:VERSion?", a -> Optional.of("1999.0"));
  }

  private static Optional<String> done(Runnable work) {
    work.run();
    return Optional.empty();
  }

  private String takeEvents() {
    String value = Integer.toString(events);
    events = 0;
    return value;
  }

  private void clear() {
    errors.clear();
    events = 0;
  }

  private String nextError() {
    return errors.isEmpty() ? "0,\"No error\"" : errors.removeFirst();
  }

  void error(int number, String text) {
    events |= number <= -200 ? 16 : 32;
    if (errors.size() >= LONGEST_QUEUE) {
      errors.removeLast();
      errors.addLast("-350,\"Queue overflow\"");
    } else {
      errors.addLast(number + ",\"" + text + "\"");
    }
  }

  /** Adds a command; every spelling of its header is entered. */
  void on(String header, Function<String, Optional<String>> work) {
    boolean question = header.endsWith("?");
    String bare = question ? header.substring(0, header.length() - 1) : header;
    for (String spelling : spellings(bare)) {
      commands.put(spelling + (question ? "?" : ""), work);
    }
  }

  /** Adds a command that takes one number. */
  void onNumber(String header, java.util.function.DoubleConsumer work) {
    on(
        header,
        a -> {
          OptionalDouble value = Numbers.parse(a);
          if (value.isEmpty()) {
            error(-104, "Data type error");
          } else {
            work.accept(value.getAsDouble());
          }
          return Optional.empty();
        });
  }

  private static List<String> spellings(String header) {
    List<String> all = new ArrayList<>(List.of(""));
    for (String node : header.replace("[:", ":[").split("(?=:)|(?<=^\\*)")) {
      boolean optional = node.contains("[");
      String plain = node.replace("[", "").replace("]", "");
      List<String> next = new ArrayList<>();
      for (String before : all) {
        next.add(before + plain.toUpperCase(Locale.ROOT));
        next.add(before + shortForm(plain));
        if (optional) {
          next.add(before);
        }
      }
      all = next;
    }
    return all.stream().map(s -> s.startsWith(":") ? s.substring(1) : s).distinct().toList();
  }

  private static String shortForm(String node) {
    StringBuilder out = new StringBuilder();
    node.chars().filter(c -> !Character.isLowerCase(c)).forEach(c -> out.append((char) c));
    return out.toString();
  }

  /** Takes one line, which may hold several commands. */
  Optional<String> hear(String line) {
    List<String> replies = new ArrayList<>();
    for (String command : line.split(";")) {
      one(command.strip()).ifPresent(replies::add);
    }
    return replies.isEmpty() ? Optional.empty() : Optional.of(String.join(";", replies));
  }

  private Optional<String> one(String command) {
    if (command.isEmpty()) {
      return Optional.empty();
    }
    int blank = command.indexOf(' ');
    String header = blank < 0 ? command : command.substring(0, blank);
    String argument = blank < 0 ? "" : command.substring(blank + 1).strip();
    String key = header.toUpperCase(Locale.ROOT);
    Function<String, Optional<String>> work =
        commands.get(key.startsWith(":") ? key.substring(1) : key);
    if (work == null) {
      error(-113, "Undefined header");
      return Optional.empty();
    }
    return work.apply(argument);
  }

  /** A number as SCPI instruments print it. */
  static String number(double value) {
    return Numbers.format("%+.8E", value);
  }
}
