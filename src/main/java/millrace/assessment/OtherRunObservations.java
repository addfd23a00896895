// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.time.Duration;
import millrace.analysis.causes.CauseObservation;
import millrace.analysis.causes.CauseObservation.Moment;
import millrace.analysis.uncertainty.Estimate;
import millrace.logbook.RunSummary;
import millrace.quantity.TimeSpanSeconds;

/**
 * Observations of a run, to be combined with those of an earlier run of the same unit. Their times
 * include the time between the runs; their errors are independent except those of instruments used
 * in both runs.
 */
final class OtherRunObservations {
  private final boolean sameInstruments;
  private final String name;
  private final double laterS;

  /** For a run, relative to the first one. */
  OtherRunObservations(RunSummary first, RunSummary own, boolean sameInstruments) {
    this.sameInstruments = sameInstruments;
    this.name = "run " + own.id();
    this.laterS =
        TimeSpanSeconds.seconds(
            Duration.between(first.start().startedAt(), own.start().startedAt()));
  }

  CauseObservation of(CauseObservation observation) {
    if (observation instanceof CauseObservation.OfCurrent c) {
      return new CauseObservation.OfCurrent(
          c.range(),
          c.terminalV(),
          c.degC(),
          elsewhere(c.current()),
          sameInstruments ? c.meter() : c.meter() + " of " + name,
          c.at().map(at -> new Moment(at.timeS() + laterS, at.inWords() + " of " + name)));
    }
    if (observation instanceof CauseObservation.OfCompliance c) {
      return new CauseObservation.OfCompliance(c.range(), elsewhere(c.compliance()));
    }
    CauseObservation.OfPart part = (CauseObservation.OfPart) observation;
    return new CauseObservation.OfPart(part.value(), part.timeS() + laterS);
  }

  private Estimate elsewhere(Estimate estimate) {
    return estimate.withSources(
        s -> sameInstruments ? s.inRun(name) : s.of(s.instance() + ", " + name));
  }
}
