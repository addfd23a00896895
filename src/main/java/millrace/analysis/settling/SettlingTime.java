// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;

/**
 * How long the current takes until means over blocks stay in a band about the mean of the last
 * window, after a step or from power-on (methods.md 6.2). Pure; thread-safe.
 */
public final class SettlingTime {
  /** How many standard deviations of a block a band must be wide to be told. */
  private static final double LEAST_BAND = 2;

  private static final int LEAST_BLOCKS = 4;

  /** By how many times the noise of a block the current must move to tell its slope. */
  private static final double CLEAR = 6;

  private static final int MOST_REACH = 10;

  private SettlingTime() {}

  /**
   * One reading.
   *
   * @param timeS since the step or power-on, s, 0 or more
   * @param currentA the current, A
   */
  public record Reading(double timeS, double currentA) {}

  /**
   * What is asked.
   *
   * @param range the range
   * @param fromPowerOn true for warm-up time, false for settling time
   * @param withinPpm half-width of the band, ppm of the final current, above 0
   * @param blockS length of a block, s, above 0
   * @param windowS length of the last window, s, at least four blocks
   * @param coverage probability of the interval
   */
  public record Question(
      String range,
      boolean fromPowerOn,
      double withinPpm,
      double blockS,
      double windowS,
      double coverage) {

    /** Checks the band, the block and the window. */
    public Question {
      if (!(withinPpm > 0) || !(blockS > 0) || !(windowS >= LEAST_BLOCKS * blockS)) {
        throw new IllegalArgumentException(
            "band %s ppm, block %s s, window %s s; expected above 0, and a window of %s blocks"
                .formatted(withinPpm, blockS, windowS, LEAST_BLOCKS));
      }
    }
  }

  /** A mean over one block, about the final current. */
  private record Block(double fromS, double midS, double ppm) {}

  /**
   * The settling or warm-up time.
   *
   * @param readings in the order of time
   * @param question what is asked
   * @return s; 'above' the record if it did not settle, 'below' the first block if it was settled
   *     in it, missing where the band is narrower than the noise of the blocks
   */
  public static Result of(List<Reading> readings, Question question) {
    Subject subject = subject(question);
    int n = readings.size();
    double end = n == 0 ? 0 : readings.get(n - 1).timeS();
    double finalA =
        readings.stream()
            .filter(r -> r.timeS() >= end - question.windowS())
            .mapToDouble(Reading::currentA)
            .average()
            .orElse(0);
    if (n < 2 || finalA == 0 || end - readings.get(0).timeS() < 2 * question.windowS()) {
      return ResultBuilder.missing(
          subject,
          NumberText.format(
              "a record of %.4g s; needs twice the last window of %.4g s, with a current",
              n == 0 ? 0 : end - readings.get(0).timeS(), question.windowS()),
          n);
    }
    List<Block> blocks = blocks(readings, question.blockS(), finalA);
    double noise = noise(blocks, end - question.windowS());
    if (question.withinPpm() < LEAST_BAND * noise) {
      return ResultBuilder.missing(
          subject,
          NumberText.format(
              "blocks of %.4g s scatter by %.3g ppm: a band of %.4g ppm cannot be resolved",
              question.blockS(), noise, question.withinPpm()),
          n);
    }
    return judged(subject, blocks, noise, question, n);
  }

  private static Subject subject(Question question) {
    return new Subject(
        question.fromPowerOn() ? ResultQuantity.WARM_UP_TIME : ResultQuantity.SETTLING_TIME,
        Optional.of(question.range()),
        ResultConditions.NONE.with(ResultConditionKey.WITHIN_PPM, question.withinPpm()),
        Optional.empty(),
        "block means within a band about the last window, Methods of Millrace 6.2",
        question.coverage());
  }

  private static List<Block> blocks(List<Reading> readings, double blockS, double finalA) {
    List<Block> blocks = new ArrayList<>();
    double start = readings.get(0).timeS();
    int i = 0;
    while (i < readings.size()) {
      long block = (long) Math.floor((readings.get(i).timeS() - start) / blockS);
      double time = 0;
      double current = 0;
      int count = 0;
      while (i < readings.size()
          && (long) Math.floor((readings.get(i).timeS() - start) / blockS) == block) {
        time += readings.get(i).timeS();
        current += readings.get(i).currentA();
        count++;
        i++;
      }
      blocks.add(
          new Block(start + block * blockS, time / count, (current / count / finalA - 1) * 1e6));
    }
    return blocks;
  }

  /** Of blocks in the last window, by successive differences less their mean: no drift counts. */
  private static double noise(List<Block> blocks, double fromS) {
    List<Double> steps = new ArrayList<>();
    for (int i = 1; i < blocks.size(); i++) {
      if (blocks.get(i - 1).fromS() >= fromS) {
        steps.add(blocks.get(i).ppm() - blocks.get(i - 1).ppm());
      }
    }
    double mean = steps.stream().mapToDouble(Double::doubleValue).average().orElse(0);
    double sum = steps.stream().mapToDouble(d -> (d - mean) * (d - mean)).sum();
    return steps.size() > 1 ? Math.sqrt(sum / (2 * (steps.size() - 1))) : 0;
  }

  private static Result judged(
      Subject subject, List<Block> blocks, double noise, Question question, int n) {
    int outside = blocks.size() - 1;
    while (outside >= 0 && Math.abs(blocks.get(outside).ppm()) <= question.withinPpm()) {
      outside--;
    }
    List<String> notes = List.of(NumberText.format("blocks of %.4g s", question.blockS()));
    if (outside < 0) {
      double first = blocks.size() > 1 ? blocks.get(1).fromS() : question.blockS();
      return ResultBuilder.bound(
          subject, new ComputationOutcome.Bound(ComputationOutcome.Side.BELOW, first, n), notes);
    }
    double end = blocks.get(blocks.size() - 1).midS();
    if (blocks.get(outside).midS() > end - question.windowS()) {
      return ResultBuilder.bound(
          subject, new ComputationOutcome.Bound(ComputationOutcome.Side.ABOVE, end, n), notes);
    }
    return ResultBuilder.value(subject, crossing(blocks, outside, noise, question), n, notes);
  }

  /**
   * Where a line through the blocks about the last one outside meets the band: the two nearest, or
   * as many more as it takes for the current to move by more than the noise of a block.
   */
  private static Estimate crossing(
      List<Block> blocks, int outside, double noise, Question question) {
    int reach = 0;
    List<Block> near = near(blocks, outside, reach);
    while (moved(near) < CLEAR * noise && reach < MOST_REACH) {
      reach++;
      near = near(blocks, outside, reach);
    }
    double[] line = line(near);
    double band = Math.copySign(question.withinPpm(), blocks.get(outside).ppm());
    double apart = blocks.get(outside + 1).midS() - blocks.get(outside).midS();
    double at = line[0] + (band - line[1]) / line[2];
    double kept = Math.min(Math.max(at, near.get(0).midS()), near.get(near.size() - 1).midS());
    return Estimate.exact(kept)
        .with(ErrorSource.within("block length", ErrorSource.POINT, "crossing", apart / 2, "s"), 1)
        .with(
            ErrorSource.normal("noise of the blocks", ErrorSource.POINT, "crossing", noise, "ppm"),
            1 / Math.abs(line[2]));
  }

  private static List<Block> near(List<Block> blocks, int outside, int reach) {
    return blocks.subList(
        Math.max(0, outside - reach), Math.min(blocks.size(), outside + 2 + reach));
  }

  private static double moved(List<Block> near) {
    return Math.abs(near.get(near.size() - 1).ppm() - near.get(0).ppm());
  }

  /** Mean time, mean ppm and slope. */
  private static double[] line(List<Block> near) {
    double t = near.stream().mapToDouble(Block::midS).average().orElse(0);
    double y = near.stream().mapToDouble(Block::ppm).average().orElse(0);
    double tt = near.stream().mapToDouble(b -> (b.midS() - t) * (b.midS() - t)).sum();
    double ty = near.stream().mapToDouble(b -> (b.midS() - t) * (b.ppm() - y)).sum();
    return new double[] {t, y, ty / tt};
  }
}
