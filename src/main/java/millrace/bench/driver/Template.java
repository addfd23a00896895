package millrace.bench.driver;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.quantity.QuantityException;

/**
 * A command with placeholders: {@code {name}} puts in a word or a number in base units, {@code
 * {name:uA}} a number counted in that unit, {@code {name:uA.3}} with three decimals.
 */
final class Template {
  private final String text;
  private final List<Piece> pieces;

  private record Piece(String literal, String name, double unitSize, int decimals) {}

  private Template(String text, List<Piece> pieces) {
    this.text = text;
    this.pieces = pieces;
  }

  /**
   * Reads a template.
   *
   * @throws IllegalArgumentException if a brace is not closed, a placeholder is not known here or a
   *     unit does not fit
   */
  static Template parse(String text, Map<String, Dimension> known) {
    List<Piece> pieces = new ArrayList<>();
    int at = 0;
    while (at < text.length()) {
      int open = text.indexOf('{', at);
      if (open < 0) {
        pieces.add(new Piece(text.substring(at), "", 1, -1));
        break;
      }
      int close = text.indexOf('}', open);
      if (close < 0) {
        throw new IllegalArgumentException("'" + text + "' opens a brace and does not close it");
      }
      pieces.add(piece(text.substring(at, open), text.substring(open + 1, close), known));
      at = close + 1;
    }
    return new Template(text, List.copyOf(pieces));
  }

  private static Piece piece(String literal, String inside, Map<String, Dimension> known) {
    int colon = inside.indexOf(':');
    String name = colon < 0 ? inside : inside.substring(0, colon);
    Dimension dimension = known.get(name);
    if (dimension == null) {
      throw new IllegalArgumentException(
          "'{%s}' is no placeholder here; expected one of %s".formatted(inside, known.keySet()));
    }
    if (colon < 0) {
      return new Piece(literal, name, 1, -1);
    }
    String unit = inside.substring(colon + 1);
    int point = unit.lastIndexOf('.');
    int decimals = point < 0 ? -1 : decimals(unit.substring(point + 1), inside);
    String symbol = point < 0 ? unit : unit.substring(0, point);
    return new Piece(literal, name, symbol.isEmpty() ? 1 : unitSize(symbol, dimension), decimals);
  }

  private static int decimals(String text, String inside) {
    double value = Numbers.parse(text).orElse(-1);
    if (value < 0 || value > 15 || value != Math.rint(value)) {
      throw new IllegalArgumentException(
          "'{%s}' asks for '%s' decimals; expected 0 to 15".formatted(inside, text));
    }
    return (int) value;
  }

  /** How many base units one of a unit is. */
  static double unitSize(String symbol, Dimension dimension) {
    try {
      return Quantities.parse("1 " + symbol, dimension);
    } catch (QuantityException e) {
      throw new IllegalArgumentException(e.getMessage(), e);
    }
  }

  /** The command with everything put in. */
  String fill(Map<String, Object> values) {
    StringBuilder out = new StringBuilder();
    for (Piece piece : pieces) {
      out.append(piece.literal());
      if (!piece.name().isEmpty()) {
        out.append(shown(values.get(piece.name()), piece));
      }
    }
    return out.toString();
  }

  private static String shown(Object value, Piece piece) {
    if (value instanceof Double number) {
      double count = number / piece.unitSize();
      return piece.decimals() < 0
          ? Numbers.print(rounded(count))
          : Numbers.fixed(count, piece.decimals());
    }
    return String.valueOf(value);
  }

  /** Takes off the last digits that only a division made. */
  private static double rounded(double count) {
    return Numbers.parse(Numbers.significant(count, 15)).orElse(count);
  }

  @Override
  public String toString() {
    return text;
  }
}
