// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.UnaryOperator;
import millrace.document.FileMessageText;
import millrace.document.RegexFromFile;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import org.jspecify.annotations.Nullable;

/**
 * A command with placeholders.
 *
 * <pre>
 * {name}              a word, or a number in base units
 * {name:uA}           a number counted in a unit
 * {name:uA.3}         with three decimals
 * {name:50}           counted in fifties
 * {name:0.1 degC|x4}  counted in tenths of a degree, as four hex digits, negative ones as two's
 *                     complement
 * {name:ohm|d6}       as a whole number of six digits with leading zeros
 * {name:A|e5}         with an exponent and five decimals
 * {name:degC|+f2}     with its sign, also if that is a plus, and two decimals
 * {name:degC|+3f1}    the same with three digits before the point, the leading ones zeros, and one
 * </pre>
 */
final class CommandTemplate {
  private static final Pattern FORMAT =
      Pattern.compile(
          "\\+?[1-9]?f(?:[0-9]|1[0-5])|\\+?e(?:[0-9]|1[0-5])|(?:\\+?d|x)(?:[1-9]|1[0-5])");

  private final String text;
  private final List<Piece> pieces;

  private record Piece(String literal, String name, double unitSize, Format format) {}

  /** How a number is printed: the shortest way, or a letter and how many digits. */
  private record Format(boolean plus, int before, char kind, int digits) {
    static final Format SHORTEST = new Format(false, 0, 'g', 0);

    String print(double count) {
      String digitsOnly = digits(count);
      return plus && !digitsOnly.startsWith("-") ? "+" + digitsOnly : digitsOnly;
    }

    private String digits(double count) {
      return switch (kind) {
        case 'f' -> led(NumberText.fixed(count, digits));
        case 'x' -> hex(whole(count));
        case 'd' -> NumberText.format("%0" + digits + "d", whole(count));
        case 'e' -> NumberText.format("%." + digits + "E", count);
        default -> NumberText.print(rounded(count));
      };
    }

    /** With leading zeros, as many as bring the digits before the point to their number. */
    private String led(String fixed) {
      String sign = fixed.startsWith("-") ? "-" : "";
      String plain = fixed.substring(sign.length());
      int there = digits == 0 ? plain.length() : plain.indexOf('.');
      return sign + "0".repeat(Math.max(0, before - there)) + plain;
    }

    private static long whole(double count) {
      return Math.round(count);
    }

    private String hex(long count) {
      long mask = (1L << (4 * digits)) - 1;
      if (count > mask || count < -(mask + 1) / 2) {
        throw new IllegalArgumentException(
            "the number " + count + " does not fit into " + digits + " hex digits");
      }
      return NumberText.format("%0" + digits + "X", count & mask);
    }

    /** Rounds off the last digits that only a division produced. */
    private static double rounded(double count) {
      return NumberText.parse(NumberText.significant(count, 15)).orElse(count);
    }
  }

  private CommandTemplate(String text, List<Piece> pieces) {
    this.text = text;
    this.pieces = pieces;
  }

  /**
   * Reads a template.
   *
   * @param known the placeholders there are, with their kinds
   * @throws IllegalArgumentException if a brace is not closed, a placeholder is not known here or a
   *     unit does not fit
   */
  static CommandTemplate parse(String text, Map<String, Dimension> known) {
    List<Piece> pieces = new ArrayList<>();
    int at = 0;
    while (at < text.length()) {
      int open = text.indexOf('{', at);
      if (open < 0) {
        pieces.add(new Piece(text.substring(at), "", 1, Format.SHORTEST));
        break;
      }
      int close = text.indexOf('}', open);
      if (close < 0) {
        throw new IllegalArgumentException("'" + text + "' opens a brace and does not close it");
      }
      pieces.add(piece(text.substring(at, open), text.substring(open + 1, close), known));
      at = close + 1;
    }
    return new CommandTemplate(text, List.copyOf(pieces));
  }

  /** A text without placeholders, whatever braces it has. */
  static CommandTemplate literal(String text) {
    return new CommandTemplate(text, List.of(new Piece(text, "", 1, Format.SHORTEST)));
  }

  /**
   * Checks that the text is a regular expression after its placeholders are filled in.
   *
   * @return one of the patterns it can become
   * @throws IllegalArgumentException if it is none; the message says why
   */
  Pattern check(Map<String, Dimension> known) {
    Map<String, Object> zeros = new HashMap<>();
    known.keySet().forEach(name -> zeros.put(name, "0"));
    return RegexFromFile.compile(filled(zeros, Pattern::quote));
  }

  private static Piece piece(String literal, String inside, Map<String, Dimension> known) {
    int end = nameEnd(inside);
    String name = inside.substring(0, end);
    Dimension dimension = known.get(name);
    if (dimension == null) {
      throw new IllegalArgumentException(unknown(inside, name, known));
    }
    boolean unit = end < inside.length() && inside.charAt(end) == ':';
    return counted(literal, name, inside.substring(unit ? end + 1 : end), dimension);
  }

  private static int nameEnd(String inside) {
    int at = 0;
    while (at < inside.length() && inside.charAt(at) != ':' && inside.charAt(at) != '|') {
      at++;
    }
    return at;
  }

  private static String unknown(String inside, String name, Map<String, Dimension> known) {
    String hint =
        FileMessageText.nearest(name, known.keySet())
            .map(w -> " (did you mean '" + w + "'?)")
            .orElse("");
    return "'{%s}' is no placeholder here%s; expected %s"
        .formatted(
            inside,
            hint,
            known.isEmpty() ? "none" : FileMessageText.oneOf(new TreeSet<>(known.keySet())));
  }

  private static Piece counted(String literal, String name, String how, Dimension dimension) {
    int bar = how.indexOf('|');
    int point = how.lastIndexOf('.');
    boolean multiple = how.matches("[0-9]+\\.[0-9]+");
    boolean decimals =
        bar < 0 && point >= 0 && !multiple && how.substring(point + 1).matches("[0-9]{1,2}");
    String unit = bar >= 0 ? how.substring(0, bar) : decimals ? how.substring(0, point) : how;
    Format format = Format.SHORTEST;
    if (bar >= 0) {
      format = format(how.substring(bar + 1), how);
    } else if (decimals) {
      format = format("f" + how.substring(point + 1), how);
    }
    return new Piece(literal, name, unit.isBlank() ? 1 : unitSize(unit, dimension), format);
  }

  private static Format format(String text, String inside) {
    if (!FORMAT.matches(text)) {
      throw new IllegalArgumentException(
          ("'{...%s}' is printed as '%s'; expected f0 to f15, e0 to e15, d1 to d15 or x1 to x15,"
                  + " with a + before f, e or d where a plus sign is to be shown; 3f1 has three"
                  + " digits before the point")
              .formatted(inside, text));
    }
    boolean plus = text.startsWith("+");
    String how = plus ? text.substring(1) : text;
    int kind = Character.isDigit(how.charAt(0)) ? 1 : 0;
    int before = kind == 1 ? Character.digit(how.charAt(0), 10) : 0;
    return new Format(plus, before, how.charAt(kind), Integer.parseInt(how.substring(kind + 1)));
  }

  /** How many base units one of a unit is, or of a multiple such as {@code 0.1 degC}. */
  static double unitSize(String unit, Dimension dimension) {
    try {
      boolean multiple = Character.isDigit(unit.strip().charAt(0));
      double size = QuantityText.parse(multiple ? unit : "1 " + unit, dimension);
      if (size > 0) {
        return size;
      }
      throw new IllegalArgumentException(
          "nothing is counted in units of '%s'; expected more than 0".formatted(unit.strip()));
    } catch (QuantityException e) {
      InputFault fault = e.at(FilePlace.of("unit"));
      throw new IllegalArgumentException(fault.found() + "; expected " + fault.expected(), e);
    }
  }

  /** The command with its placeholders filled in. */
  String fill(Map<String, ?> values) {
    return pieces.size() == 1 && pieces.get(0).name().isEmpty()
        ? text
        : filled(values, UnaryOperator.identity());
  }

  /** The template as a pattern, with the filled-in values taken literally. */
  Pattern pattern(Map<String, ?> values) {
    return Pattern.compile(filled(values, Pattern::quote));
  }

  /**
   * A pattern that recognizes a line made by this template, whatever number was filled in.
   *
   * @param pattern finds it; its first group is the number as it was printed
   * @param unitSize how many base units one of its unit is
   * @param hexDigits how many hex digits it has; 0 for a decimal number
   */
  record Mask(Pattern pattern, double unitSize, int hexDigits) {
    /** The number in base units; not a number where a word stands in its place. */
    double value(String printed) {
      return hexDigits == 0
          ? NumberText.parse(printed).orElse(Double.NaN) * unitSize
          : hex(printed) * unitSize;
    }

    /** Two's complement, as it is printed. */
    private double hex(String printed) {
      long count = Long.parseLong(printed, 16);
      long top = 1L << (4 * hexDigits - 1);
      return count >= top ? count - 2 * top : count;
    }
  }

  /** The same for one of its placeholders; empty if it has no such. */
  Optional<Mask> mask(String name, Map<String, ?> settings) {
    Optional<Piece> own = pieces.stream().filter(p -> p.name().equals(name)).findFirst();
    return own.map(
        piece -> {
          int hex = piece.format().kind() == 'x' ? piece.format().digits() : 0;
          String number = hex > 0 ? "([0-9A-Fa-f]{" + hex + "})" : "([^\\s;,]+)";
          StringBuilder all = new StringBuilder("(?i)(?:^|[^A-Za-z0-9])");
          pieces.forEach(p -> all.append(masked(p, name, number, settings)));
          return new Mask(
              Pattern.compile(all.append("(?:$|[\\s;,])").toString()), piece.unitSize(), hex);
        });
  }

  private static String masked(Piece p, String name, String number, Map<String, ?> settings) {
    String before = Pattern.quote(p.literal());
    if (p.name().isEmpty()) {
      return before;
    }
    String any =
        settings.containsKey(p.name()) ? Pattern.quote(shown(settings.get(p.name()), p)) : ".*?";
    return before + (p.name().equals(name) ? number : any);
  }

  private String filled(Map<String, ?> values, UnaryOperator<String> guard) {
    StringBuilder out = new StringBuilder();
    for (Piece piece : pieces) {
      out.append(piece.literal());
      if (!piece.name().isEmpty()) {
        out.append(guard.apply(shown(values.get(piece.name()), piece)));
      }
    }
    return out.toString();
  }

  private static String shown(@Nullable Object value, Piece piece) {
    if (value instanceof Double number) {
      return piece.format().print(number / piece.unitSize());
    }
    if (value instanceof String word) {
      boolean number = !piece.format().equals(Format.SHORTEST) || piece.unitSize() != 1;
      return number ? piece.format().print(count(word, piece)) : word;
    }
    throw new IllegalArgumentException("nothing is given for '{" + piece.name() + "}'");
  }

  private static double count(String word, Piece piece) {
    return NumberText.parse(word)
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "'%s' is no number, as '{%s}' must be".formatted(word, piece.name())))
        / piece.unitSize();
  }

  @Override
  public String toString() {
    return text;
  }
}
