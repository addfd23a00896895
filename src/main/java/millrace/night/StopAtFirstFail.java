// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessor;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.evidence.Result;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.report.words.ResultWords;
import millrace.run.control.RunObserver;
import millrace.run.production.FailedResult;

/**
 * Assesses a board each time that a range is done, and ends its test once a limit of that range is
 * not met.
 */
final class StopAtFirstFail implements RunObserver {
  private final Logbook book;
  private long run;
  private Optional<String> range = Optional.empty();
  private Optional<String> done = Optional.empty();

  StopAtFirstFail(Logbook book) {
    this.book = book;
  }

  @Override
  public void began(long run, int points, int done) {
    this.run = run;
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    Optional<String> now = point.conditions().range();
    if (range.isPresent() && !range.equals(now)) {
      done = range;
    }
    range = now;
  }

  @Override
  public Optional<String> enough() {
    Optional<String> which = done;
    done = Optional.empty();
    return which.flatMap(this::failed);
  }

  private Optional<String> failed(String finished) {
    try {
      List<Result> results = Assessor.assess(book.reader(run)).results();
      return FailedResult.among(results).stream()
          .map(FailedResult::result)
          .filter(r -> r.range().equals(Optional.of(finished)))
          .map(r -> ResultWords.name(r) + " is outside its limit")
          .findFirst();
    } catch (NotAnalysableException e) {
      return Optional.empty();
    }
  }
}
