// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.DoubleConsumer;
import java.util.function.Function;
import java.util.function.Supplier;
import millrace.quantity.NumberText;

/**
 * The command side of an SCPI-1999 instrument, strict: only long and short headers, compound lines
 * whose headers continue the previous one (SCPI-1999 volume 1, 6.2.4, from memory), common commands
 * and status registers of IEEE 488.2, an error queue. Headers are given in the notation of the
 * standard, upper case for the short form. Guarded by the circuit's lock.
 */
final class ScpiInterpreter {
  private static final int LONGEST_QUEUE = 20;
  private static final int POWER_ON = 128;
  private static final int COMMAND_ERROR = 32;
  private static final int EXECUTION_ERROR = 16;
  private static final int DEVICE_ERROR = 8;
  private static final int QUERY_ERROR = 4;
  private static final int OPERATION_COMPLETE = 1;

  private final Map<String, Function<String, Optional<String>>> commands = new LinkedHashMap<>();
  private final ArrayDeque<String> errors = new ArrayDeque<>();
  private int events = POWER_ON;
  private int eventMask;
  private int serviceMask;

  ScpiInterpreter(String identity, Runnable reset) {
    asks("*IDN?", () -> identity);
    does("*RST", reset);
    does("*CLS", this::clear);
    asks("*OPC?", () -> "1");
    does("*OPC", () -> events |= OPERATION_COMPLETE);
    does("*WAI", () -> {});
    asks("*TST?", () -> "0");
    asks("*STB?", () -> Integer.toString(status()));
    asks("*ESR?", this::takeEvents);
    mask("*ESE", () -> eventMask, m -> eventMask = m);
    mask("*SRE", () -> serviceMask, m -> serviceMask = m & ~64);
    asks("SYSTem:ERRor[:NEXT]?", this::nextError);
    asks("SYSTem:ERRor:COUNt?", () -> Integer.toString(errors.size()));
    asks("SYSTem:VERSion?", () -> "1999.0");
  }

  private void mask(String header, Supplier<Integer> value, Consumer<Integer> set) {
    asks(header + "?", () -> Integer.toString(value.get()));
    takes(header, 0, 255, v -> set.accept((int) v));
  }

  private int status() {
    int queue = errors.isEmpty() ? 0 : 4;
    int event = (events & eventMask) == 0 ? 0 : 32;
    return queue + event + (((queue + event) & serviceMask) == 0 ? 0 : 64);
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

  /** The state after a power cut. */
  void powerOn() {
    clear();
    events = POWER_ON;
    eventMask = 0;
    serviceMask = 0;
  }

  private String nextError() {
    return errors.isEmpty() ? "0,\"No error\"" : errors.removeFirst();
  }

  void error(int number, String text) {
    events |= register(number);
    if (errors.size() >= LONGEST_QUEUE) {
      errors.removeLast();
      errors.addLast("-350,\"Queue overflow\"");
    } else {
      errors.addLast(number + ",\"" + text + "\"");
    }
  }

  private static int register(int number) {
    if (number <= -400) {
      return QUERY_ERROR;
    }
    if (number <= -300 || number > 0) {
      return DEVICE_ERROR;
    }
    return number <= -200 ? EXECUTION_ERROR : COMMAND_ERROR;
  }

  void fillQueue() {
    for (int i = 0; i < LONGEST_QUEUE + 1; i++) {
      error(-310, "System error");
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

  /** Adds a question without a parameter. */
  void asks(String header, Supplier<String> answer) {
    on(
        header,
        a -> a.isEmpty() ? Optional.of(answer.get()) : refused(-108, "Parameter not allowed"));
  }

  /** Adds a command without a parameter. */
  void does(String header, Runnable work) {
    on(
        header,
        a -> {
          if (!a.isEmpty()) {
            return refused(-108, "Parameter not allowed");
          }
          work.run();
          return Optional.empty();
        });
  }

  /** Adds a command that takes one number between two bounds. */
  void takes(String header, double least, double most, DoubleConsumer work) {
    on(
        header,
        a -> {
          if (a.isEmpty()) {
            return refused(-109, "Missing parameter");
          }
          OptionalDouble value = number(a, least, most);
          if (value.isEmpty()) {
            return refused(-104, "Data type error");
          }
          double v = value.getAsDouble();
          if (!(v >= least && v <= most)) {
            return refused(-222, "Data out of range");
          }
          work.accept(v);
          return Optional.empty();
        });
  }

  private static OptionalDouble number(String text, double least, double most) {
    return switch (text.toUpperCase(Locale.ROOT)) {
      case "MIN", "MINIMUM" -> OptionalDouble.of(least);
      case "MAX", "MAXIMUM" -> OptionalDouble.of(most);
      default -> NumberText.parse(text);
    };
  }

  /** Adds a command for on and off. */
  void takesFlag(String header, Consumer<Boolean> set) {
    on(
        header,
        a -> {
          switch (a.toUpperCase(Locale.ROOT)) {
            case "ON", "1" -> set.accept(true);
            case "OFF", "0" -> set.accept(false);
            case "" -> error(-109, "Missing parameter");
            default -> error(-104, "Data type error");
          }
          return Optional.empty();
        });
  }

  Optional<String> refused(int number, String text) {
    error(number, text);
    return Optional.empty();
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
    String path = "";
    for (String command : line.split(";")) {
      String one = command.strip();
      if (one.isEmpty()) {
        continue;
      }
      int blank = one.indexOf(' ');
      String header = (blank < 0 ? one : one.substring(0, blank)).toUpperCase(Locale.ROOT);
      String key = header.startsWith(":") || header.startsWith("*") ? header : path + header;
      String full = key.startsWith(":") ? key.substring(1) : key;
      work(full, blank < 0 ? "" : one.substring(blank + 1).strip()).ifPresent(replies::add);
      path = header.startsWith("*") ? path : full.substring(0, full.lastIndexOf(':') + 1);
    }
    return replies.isEmpty() ? Optional.empty() : Optional.of(String.join(";", replies));
  }

  private Optional<String> work(String header, String argument) {
    Function<String, Optional<String>> work = commands.get(header);
    return work == null ? refused(-113, "Undefined header") : work.apply(argument);
  }

  /** A number in the form that SCPI instruments print. */
  static String number(double value) {
    return NumberText.format("%+.8E", value);
  }
}
