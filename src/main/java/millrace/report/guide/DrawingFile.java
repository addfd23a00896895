// SPDX-License-Identifier: Apache-2.0
package millrace.report.guide;

import static millrace.report.plot.Schematic.at;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import millrace.quantity.NumberText;
import millrace.report.plot.Schematic;
import millrace.report.plot.Schematic.Place;
import millrace.report.plot.Schematic.Towards;

/**
 * Reads a drawing from the few lines that describe it, one part a line. Places are x,y on a grid of
 * 20 px from the left and from the top; a drawing is 18 wide, so that it is readable on a telephone
 * at its own size.
 *
 * <pre>
 * title TEXT                          first line
 * words TEXT                          second line: the drawing for who cannot see it
 * high N                              third line
 * box X,Y WIDExHIGH NAME | MORE       an instrument
 * space X,Y WIDExHIGH NAME            a chamber, a screen
 * lead X,Y X,Y ...   guard ...   leak ...
 * meter X,Y LETTER                    a letter in a circle
 * resistance X,Y lies|stands   cell X,Y lies|stands
 * joint X,Y   earth X,Y
 * arrow X,Y right|left|up|down   amplifier X,Y right|left|up|down
 * label X,Y ROOM NAME | MORE          words about a place
 * text X,Y ROOM WORDS                 words from a place to the right
 * </pre>
 */
final class DrawingFile {
  private static final double GRID = 20;
  private static final double WIDE = 18;

  private final String file;
  private final List<String> lines;

  private DrawingFile(String file, List<String> lines) {
    this.file = file;
    this.lines = lines;
  }

  /**
   * Reads a drawing.
   *
   * @param file its name, for errors
   * @param text its lines
   * @return the drawing
   * @throws IllegalArgumentException if a line cannot be read: with file and line
   */
  static Schematic read(String file, String text) {
    return new DrawingFile(file, text.lines().toList()).drawing();
  }

  private Schematic drawing() {
    String title = head(0, "title");
    String words = head(1, "words");
    double high = number(2, head(2, "high"));
    Schematic drawing = new Schematic(title, words, WIDE * GRID, high * GRID);
    for (int i = 3; i < lines.size(); i++) {
      if (!lines.get(i).isBlank()) {
        part(drawing, i);
      }
    }
    return drawing;
  }

  private String head(int line, String word) {
    if (lines.size() <= line || !lines.get(line).startsWith(word + " ")) {
      throw fault(line, "expected '" + word + " ...'");
    }
    return lines.get(line).substring(word.length() + 1).strip();
  }

  private void part(Schematic drawing, int line) {
    String[] words = lines.get(line).strip().split(" +", 2);
    String rest = words.length < 2 ? "" : words[1];
    switch (words[0]) {
      case "lead" -> drawing.lead(places(line, rest));
      case "guard" -> drawing.guard(places(line, rest));
      case "leak" -> drawing.leak(places(line, rest));
      case "joint" -> Arrays.stream(places(line, rest)).forEach(drawing::joint);
      case "earth" -> Arrays.stream(places(line, rest)).forEach(drawing::earth);
      default -> placed(drawing, line, words[0], rest);
    }
  }

  /** A part with one place and further words behind it. */
  private void placed(Schematic drawing, int line, String part, String rest) {
    String[] words = rest.split(" +", 2);
    Place place = place(line, words[0]);
    String more = words.length < 2 ? "" : words[1];
    switch (part) {
      case "meter" -> drawing.meter(place, more);
      case "resistance" -> drawing.resistance(place, lies(line, more));
      case "cell" -> drawing.cell(place, lies(line, more));
      case "arrow" -> drawing.arrow(place, towards(line, more));
      case "amplifier" -> drawing.amplifier(place, towards(line, more));
      default -> sized(drawing, line, part, place, more);
    }
  }

  /** A part with a size and words behind its place. */
  private void sized(Schematic drawing, int line, String part, Place place, String more) {
    String[] words = more.split(" +", 2);
    String[] name = (words.length < 2 ? "" : words[1]).split(" \\| ", 2);
    String below = name.length < 2 ? "" : name[1];
    switch (part) {
      case "box" -> {
        Place size = place(line, words[0].replace('x', ','));
        drawing.box(place, size.x(), size.y(), name[0], below);
      }
      case "space" -> {
        Place size = place(line, words[0].replace('x', ','));
        drawing.space(place, size.x(), size.y(), name[0]);
      }
      case "label" -> drawing.label(place, number(line, words[0]) * GRID, name[0], below);
      case "text" -> drawing.text(place, number(line, words[0]) * GRID, name[0]);
      default -> throw fault(line, "'" + part + "' is no part of a drawing");
    }
  }

  private boolean lies(int line, String word) {
    if (!word.equals("lies") && !word.equals("stands")) {
      throw fault(line, "expected 'lies' or 'stands'");
    }
    return word.equals("lies");
  }

  private Towards towards(int line, String word) {
    return Arrays.stream(Towards.values())
        .filter(t -> t.name().toLowerCase(Locale.ROOT).equals(word))
        .findFirst()
        .orElseThrow(() -> fault(line, "expected right, left, up or down"));
  }

  private Place[] places(int line, String words) {
    List<Place> places = new ArrayList<>();
    for (String word : words.split(" +")) {
      places.add(place(line, word));
    }
    return places.toArray(Place[]::new);
  }

  private Place place(int line, String word) {
    String[] xy = word.split(",", -1);
    if (xy.length != 2) {
      throw fault(line, "expected a place such as '3,4'");
    }
    return at(number(line, xy[0]) * GRID, number(line, xy[1]) * GRID);
  }

  private double number(int line, String word) {
    return NumberText.parse(word).orElseThrow(() -> fault(line, "'" + word + "' is no number"));
  }

  private IllegalArgumentException fault(int line, String what) {
    return new IllegalArgumentException("%s:%s: %s".formatted(file, line + 1, what));
  }
}
