// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.response;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.analysis.response.BorrowedCoefficients;
import millrace.analysis.response.ResponseCoefficient;
import millrace.analysis.response.ResponseCoefficientSet;
import millrace.analysis.response.ResponseSettings.Taken;
import millrace.analysis.response.ResponseValidityDomain;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.basis.TempcoSpread;
import millrace.assessment.design.DesignTempcoCoefficients;
import millrace.logbook.BatchJudgedValue;

/** Finds a source of coefficients that a run did not measure (methods.md 11.6). */
final class BorrowedCoefficientFinder {
  private final JudgementBasis basis;
  private final List<BatchJudgedValue> batch;

  /**
   * Makes a finder.
   *
   * @param basis the judgement basis of the run
   * @param batch judged values of the other units of its batch; may be empty
   */
  BorrowedCoefficientFinder(JudgementBasis basis, List<BatchJudgedValue> batch) {
    this.basis = basis;
    this.batch = batch;
  }

  /** The type run first, then the batch, then the design (methods.md 11.6). */
  List<Taken> of(String range) {
    Stream<Taken> type =
        basis.typeRun().stream().flatMap(t -> t.taken(basis.datasheet(), range).stream());
    Optional<Taken> design =
        basis
            .datasheet()
            .flatMap(
                s ->
                    DesignTempcoCoefficients.of(s, range)
                        .map(
                            c ->
                                new Taken(
                                    new BorrowedCoefficients(
                                        BorrowedCoefficients.Kind.DESIGN,
                                        "the worst case of the parts of " + s.name()),
                                    c)));
    return Stream.of(type, batch(range).stream(), design.stream()).flatMap(s -> s).toList();
  }

  /** The tempcos of the batch's other units: their mean, with their spread for this unit's. */
  private Optional<Taken> batch(String range) {
    return TempcoSpread.among(batch, range)
        .map(
            spread ->
                new Taken(
                    new BorrowedCoefficients(
                        BorrowedCoefficients.Kind.BATCH,
                        "the batch, %s other units".formatted(spread.units())),
                    ResponseCoefficientSet.independent(
                        List.of(ResponseCoefficient.A),
                        new double[] {spread.meanPerK()},
                        new double[] {spread.ofOneMorePerK()},
                        1,
                        ResponseValidityDomain.everywhere())));
  }
}
