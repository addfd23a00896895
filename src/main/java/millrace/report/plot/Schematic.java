// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import millrace.report.markup.Markup;

/**
 * Circuit diagram made of parts at given places and of leads between them, px. Symbols follow IEC
 * 60617 in their plain form (from memory): a rectangle for a resistance, a letter in a circle for a
 * meter. The diagram is inline SVG in the colours of the plots; its words are text.
 *
 * <p>Mutable during drawing, single-threaded.
 */
public final class Schematic {
  private static final double METER = 17;
  private static final double LONG = 42;
  private static final double SHORT = 15;
  private static final double LINE = 14;
  private static final double PLATE = 10;
  private static final double GAP = 3;
  private static final SvgWriter.Stroke LEAK = new SvgWriter.Stroke("#d55e00", 1.8, "2 3");
  private static final SvgWriter.Stroke PLAIN = new SvgWriter.Stroke(SvgWriter.TEXT, 1.5, "");

  private final String title;
  private final String description;
  private final double width;
  private final double height;
  private final List<Consumer<SvgWriter>> parts = new ArrayList<>();

  /** A place, px from the left and from the top. */
  public record Place(double x, double y) {}

  /**
   * Creates an empty diagram.
   *
   * @param title title, one line
   * @param description description of the content, for readers who cannot see it
   * @param width px
   * @param height px
   */
  public Schematic(String title, String description, double width, double height) {
    this.title = title;
    this.description = description;
    this.width = width;
    this.height = height;
  }

  /** A place in a drawing. */
  public static Place at(double x, double y) {
    return new Place(x, y);
  }

  /** Draws a lead through the given places. */
  public Schematic lead(Place... places) {
    return path(PLAIN, places);
  }

  /**
   * Draws a guard or shield beside a lead, or another connection that carries none of the current.
   */
  public Schematic guard(Place... places) {
    return path(new SvgWriter.Stroke(SvgWriter.STRONG, 1.2, "6 4"), places);
  }

  /** Draws the way of a current that nobody wants: dotted, and in a colour of its own. */
  public Schematic leak(Place... places) {
    return path(LEAK, places);
  }

  private Schematic path(SvgWriter.Stroke stroke, Place... places) {
    StringBuilder d = new StringBuilder();
    for (Place p : places) {
      d.append(d.length() == 0 ? 'M' : 'L').append(corner(p.x(), p.y()));
    }
    parts.add(svg -> svg.path(d.toString(), stroke));
    return this;
  }

  private static String corner(double x, double y) {
    return SvgWriter.px(x) + " " + SvgWriter.px(y);
  }

  /** Draws a joint of leads. */
  public Schematic joint(Place at) {
    parts.add(svg -> svg.symbol(circle(at.x(), at.y(), 2.6), true));
    return this;
  }

  /** Where an arrow or an amplifier points. */
  public enum Towards {
    /** To the right. */
    RIGHT(1, 0),
    /** To the left. */
    LEFT(-1, 0),
    /** Up. */
    UP(0, -1),
    /** Down. */
    DOWN(0, 1);

    private final int x;
    private final int y;

    Towards(int x, int y) {
      this.x = x;
      this.y = y;
    }
  }

  /** Draws the head of an arrow on a lead: the direction of a current. */
  public Schematic arrow(Place at, Towards towards) {
    parts.add(svg -> svg.symbol(triangle(at, towards, 5, 4), true));
    return this;
  }

  /** Draws an amplifier: a triangle that points to its output. */
  public Schematic amplifier(Place centre, Towards towards) {
    parts.add(svg -> svg.symbol(triangle(centre, towards, 15, 15), false));
    return this;
  }

  private static String triangle(Place at, Towards to, double length, double half) {
    return "M%sL%sL%sZ"
        .formatted(
            corner(at.x() + to.x * length, at.y() + to.y * length),
            corner(at.x() - to.x * length + to.y * half, at.y() - to.y * length - to.x * half),
            corner(at.x() - to.x * length - to.y * half, at.y() - to.y * length + to.x * half));
  }

  /** Draws protective earth, below a place. */
  public Schematic earth(Place at) {
    lead(at, at(at.x(), at.y() + 8));
    for (int i = 0; i < 3; i++) {
      double half = PLATE - 3 * i;
      double y = at.y() + 8 + 4 * i;
      lead(at(at.x() - half, y), at(at.x() + half, y));
    }
    return this;
  }

  /** Draws a small voltage in a lead, such as a thermal one: a long plate and a short one. */
  public Schematic cell(Place centre, boolean lies) {
    double gapX = lies ? GAP : 0;
    double gapY = lies ? 0 : GAP;
    parts.add(
        svg -> {
          svg.blank(
              "M%sL%s"
                  .formatted(
                      corner(centre.x() - gapX, centre.y() - gapY),
                      corner(centre.x() + gapX, centre.y() + gapY)));
          plate(svg, at(centre.x() - gapX, centre.y() - gapY), PLATE, lies);
          plate(svg, at(centre.x() + gapX, centre.y() + gapY), PLATE / 2, lies);
        });
    return this;
  }

  private static void plate(SvgWriter svg, Place at, double half, boolean lies) {
    double x = lies ? 0 : half;
    double y = lies ? half : 0;
    svg.line(at.x() - x, at.y() - y, at.x() + x, at.y() + y, PLAIN);
  }

  /** Draws a box with a bold name and further words below it. */
  public Schematic box(Place corner, double wide, double high, String name, String more) {
    parts.add(
        svg -> {
          svg.path(
              "M%sH%sV%sH%sZ"
                  .formatted(
                      corner(corner.x(), corner.y()),
                      SvgWriter.px(corner.x() + wide),
                      SvgWriter.px(corner.y() + high),
                      SvgWriter.px(corner.x())),
              SvgWriter.Stroke.FRAME);
          words(svg, at(corner.x() + wide / 2, corner.y() + 17), wide - 8, name, more);
        });
    return this;
  }

  /** Draws a space, such as a chamber: a dashed box with its name inside at the top left. */
  public Schematic space(Place corner, double wide, double high, String name) {
    guard(
        corner,
        at(corner.x() + wide, corner.y()),
        at(corner.x() + wide, corner.y() + high),
        at(corner.x(), corner.y() + high),
        corner);
    return text(at(corner.x() + 6, corner.y() + 15), wide - 12, name);
  }

  /** Draws a meter: a letter in a circle. */
  public Schematic meter(Place centre, String letter) {
    parts.add(
        svg -> {
          svg.symbol(circle(centre.x(), centre.y(), METER), false);
          svg.text(letter, centre.x(), centre.y() + 4.5, SvgWriter.Anchor.MIDDLE);
        });
    return this;
  }

  /** Draws a resistance, along a lead or across two leads. */
  public Schematic resistance(Place centre, boolean lies) {
    double halfX = (lies ? LONG : SHORT) / 2;
    double halfY = (lies ? SHORT : LONG) / 2;
    parts.add(
        svg ->
            svg.symbol(
                "M%sH%sV%sH%sZ"
                    .formatted(
                        corner(centre.x() - halfX, centre.y() - halfY),
                        SvgWriter.px(centre.x() + halfX),
                        SvgWriter.px(centre.y() + halfY),
                        SvgWriter.px(centre.x() - halfX)),
                false));
    return this;
  }

  /** Writes words from a place to the right; they are wrapped to the given width. */
  public Schematic text(Place start, double room, String words) {
    parts.add(svg -> lines(svg, start, room, words, SvgWriter.Anchor.START));
    return this;
  }

  /** Writes words centred on a place: a name, and further words below it. */
  public Schematic label(Place middle, double room, String name, String more) {
    parts.add(svg -> words(svg, middle, room, name, more));
    return this;
  }

  private static void words(SvgWriter svg, Place middle, double room, String name, String more) {
    int used = lines(svg, middle, room, name, SvgWriter.Anchor.MIDDLE);
    lines(svg, at(middle.x(), middle.y() + used * LINE), room, more, SvgWriter.Anchor.MIDDLE);
  }

  private static int lines(
      SvgWriter svg, Place from, double room, String words, SvgWriter.Anchor anchor) {
    if (words.isEmpty()) {
      return 0;
    }
    List<String> lines = TextWidths.wrapped(words, SvgWriter.SMALL, room);
    for (int i = 0; i < lines.size(); i++) {
      svg.text(lines.get(i), from.x(), from.y() + i * LINE, anchor);
    }
    return lines.size();
  }

  private static String circle(double x, double y, double r) {
    return "M%sa%s %s 0 1 0 %s 0a%s %s 0 1 0 %s 0Z"
        .formatted(
            corner(x - r, y),
            SvgWriter.px(r),
            SvgWriter.px(r),
            SvgWriter.px(2 * r),
            SvgWriter.px(r),
            SvgWriter.px(r),
            SvgWriter.px(-2 * r));
  }

  /**
   * Writes the diagram.
   *
   * @param out the page
   * @param id an id that is unique on the page
   */
  public void write(Markup out, String id) {
    SvgWriter svg = new SvgWriter(out);
    svg.open(id, title, description, width, height);
    parts.forEach(part -> part.accept(svg));
    out.close();
  }
}
