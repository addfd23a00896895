// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.datasheet.Datasheet;
import millrace.logbook.RunEvaluation;

/**
 * The basis of a judgement: the run's own files in the logbook, or later ones.
 *
 * @param datasheet the datasheet of the unit; empty for an import without one
 * @param bench the instruments; empty for an import
 * @param datasheetSha256 hash of the datasheet's file
 * @param otherBenches later bench files that replace the run's own bench or single instruments of
 *     it; empty if the run's own counts
 * @param typeRun the type run that supplies coefficients the run did not measure; empty if there is
 *     none
 * @param reason reason for this basis, in words
 */
public record JudgementBasis(
    Optional<Datasheet> datasheet,
    Optional<BenchFile> bench,
    Optional<String> datasheetSha256,
    List<RunEvaluation.OtherBench> otherBenches,
    Optional<TypeTestRun> typeRun,
    String reason) {
  /** Copies the list. */
  public JudgementBasis {
    otherBenches = List.copyOf(otherBenches);
  }

  /**
   * This basis with another datasheet.
   *
   * @param sheet the datasheet
   * @param sha256 hash of its file
   * @return the basis to judge by
   */
  public JudgementBasis with(Datasheet sheet, String sha256) {
    return new JudgementBasis(
        Optional.of(sheet), bench, Optional.of(sha256), otherBenches, typeRun, reason);
  }

  /**
   * This basis with another bench file, or one instrument of it.
   *
   * @param file the bench file, which contains the instrument to take from it
   * @param other its hash and the instrument
   * @return the basis to judge by
   */
  public JudgementBasis with(BenchFile file, RunEvaluation.OtherBench other) {
    BenchFile now =
        other
            .instrument()
            .flatMap(name -> bench.map(b -> b.with(file.instruments().get(name))))
            .orElse(file);
    List<RunEvaluation.OtherBench> others = new ArrayList<>(otherBenches);
    others.removeIf(o -> other.instrument().isEmpty() || o.instrument().equals(other.instrument()));
    others.add(other);
    return new JudgementBasis(
        datasheet, Optional.of(now), datasheetSha256, others, typeRun, reason);
  }

  /**
   * This basis with a reason.
   *
   * @param why the reason for this basis, in words
   * @return the same files
   */
  public JudgementBasis because(String why) {
    return new JudgementBasis(datasheet, bench, datasheetSha256, otherBenches, typeRun, why);
  }

  /**
   * This basis with a type run.
   *
   * @param like the run that supplies coefficients not measured
   * @return the basis to judge by
   */
  public JudgementBasis like(TypeTestRun like) {
    return new JudgementBasis(
        datasheet, bench, datasheetSha256, otherBenches, Optional.of(like), reason);
  }

  /**
   * Files later than the run's own, one sentence each.
   *
   * @return bench files with the instruments they apply to and the certificate they state; empty if
   *     the run's own files count
   */
  public List<String> later() {
    return otherBenches.stream().map(this::inWords).toList();
  }

  /**
   * The name of the bench.
   *
   * @return its name; empty for an import
   */
  public Optional<String> benchName() {
    return bench.map(BenchFile::name);
  }

  /**
   * The certificates that count.
   *
   * @return instrument, laboratory, number and day of each, by instrument; may be empty
   */
  public List<String> certificates() {
    return bench.stream()
        .flatMap(b -> b.instruments().values().stream())
        .flatMap(e -> e.certificate().stream().map(c -> e.name() + ": " + inWords(c)))
        .sorted()
        .toList();
  }

  private static String inWords(BenchFile.Certificate c) {
    return "%s, %s%s"
        .formatted(c.laboratory(), c.number(), c.calibrated().map(d -> " of " + d).orElse(""));
  }

  private String inWords(RunEvaluation.OtherBench other) {
    String certificate =
        other
            .instrument()
            .flatMap(name -> bench.map(b -> b.instruments().get(name)))
            .flatMap(BenchFile.Entry::certificate)
            .map(c -> " with certificate " + inWords(c))
            .orElse("");
    return "A bench file that came later (SHA-256 %s) counts for %s%s."
        .formatted(
            other.sha256(),
            other.instrument().map(i -> "instrument " + i).orElse("everything"),
            certificate);
  }

  /**
   * T_ref.
   *
   * @return degC; the usual one without a datasheet
   */
  public double referenceDegC() {
    return datasheet
        .map(Datasheet::referenceTemperatureDegC)
        .orElse(Datasheet.DEFAULT_REFERENCE_DEGC);
  }

  /**
   * The probability of stated intervals.
   *
   * @return above 0.5 and below 1
   */
  public double coverage() {
    return datasheet.map(Datasheet::coverage).orElse(Datasheet.DEFAULT_COVERAGE);
  }
}
