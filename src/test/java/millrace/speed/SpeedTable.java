// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.IOException;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.ToDoubleFunction;
import millrace.quantity.NumberText;
import millrace.speed.TimedCommand.Took;

/** The table of ratios: each row a work beside the least that does the same. */
final class SpeedTable {
  private final Path folder;
  private final int times;
  private final boolean whole;
  private final List<String> rows = new ArrayList<>();

  /** Before each time: makes way for files that a command is to write anew. */
  interface Preparation {
    /** Makes way. */
    void run() throws IOException;
  }

  /** Work done so many times, in a folder; whole, or in small so that it stays alive. */
  SpeedTable(Path folder, int times, boolean whole) {
    this.folder = folder;
    this.times = times;
    this.whole = whole;
  }

  /** Where files of the work go. */
  Path folder() {
    return folder;
  }

  /** A size: that of the table, or that of its short form. */
  int size(int ofTable, int inSmall) {
    return whole ? ofTable : inSmall;
  }

  /** A command beside its reference, in turn, the middle of several. */
  void beside(String work, TimedCommand ours, String name, TimedCommand reference, String asked)
      throws IOException, InterruptedException {
    beside(work, ours, name, reference, asked, () -> {});
  }

  /** A command beside its reference, in turn, the middle of several. */
  void beside(
      String work,
      TimedCommand ours,
      String name,
      TimedCommand reference,
      String asked,
      Preparation before)
      throws IOException, InterruptedException {
    List<Took> us = new ArrayList<>();
    List<Took> them = new ArrayList<>();
    for (int i = 0; i < times; i++) {
      before.run();
      us.add(ours.done(folder));
      them.add(reference.done(folder));
    }
    Took mine = middle(us);
    Took least = middle(them);
    row(
        work,
        text(mine),
        name,
        text(least),
        ratio(mine.elapsedS(), least.elapsedS())
            + "; "
            + ratio(mine.processorS(), least.processorS()),
        asked);
  }

  /** A row of its own. */
  void row(String work, String took, String reference, String itTook, String ratio, String asked) {
    rows.add(
        "| %s | %s | %s | %s | %s | %s |\n".formatted(work, took, reference, itTook, ratio, asked));
  }

  /** A row that cannot be measured here. */
  void absent(String work, String why, String asked) {
    row(work, "", why, "", "", asked);
  }

  /** The exponent by which time grows with size: 1 as the data do. */
  static String slope(Took less, Took more, double growth) {
    return NumberText.significant(
        Math.log(more.elapsedS() / less.elapsedS()) / Math.log(growth), 3);
  }

  /** Elapsed and processor time, s. */
  static String text(Took took) {
    return NumberText.significant(took.elapsedS(), 3)
        + "; "
        + NumberText.significant(took.processorS(), 3);
  }

  private static String ratio(double ours, double least) {
    return least > 0 ? NumberText.significant(ours / least, 3) : "too short to tell";
  }

  private static Took middle(List<Took> all) {
    return new Took(middle(all, Took::elapsedS), middle(all, Took::processorS));
  }

  private static double middle(List<Took> all, ToDoubleFunction<Took> of) {
    double[] sorted = all.stream().mapToDouble(of).toArray();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  @Override
  public String toString() {
    return """
    Each row in turn with its reference, the middle of %s; elapsed time; time of processors. %s, %s
    processors, Java %s, %s.

    | work | s | reference | s | ratio | asked |
    |---|---|---|---|---|---|
    """
            .formatted(
                times,
                System.getProperty("os.arch"),
                Runtime.getRuntime().availableProcessors(),
                Runtime.version().feature(),
                LocalDate.now(ZoneOffset.UTC))
        + String.join("", rows);
  }
}
