package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.logbook.RunWriter;
import millrace.time.TimeSource;

/**
 * Writes to the logbook first and tells observers then; keeps the run's own elapsed time, which
 * goes on where an earlier session of the run ended. Single-threaded.
 */
final class Journal {
  private final RunWriter writer;
  private final TimeSource time;
  private final Duration base;
  private final Duration offset;
  private final List<RunObserver> observers;
  private Optional<String> point = Optional.empty();

  Journal(RunSetting setting) {
    writer = setting.writer();
    time = setting.time();
    base = time.elapsed();
    offset = setting.before().elapsed();
    observers = new ArrayList<>(setting.observers());
  }

  /** Elapsed time of the run. */
  Duration elapsed() {
    return time.elapsed().minus(base).plus(offset);
  }

  RunWriter writer() {
    return writer;
  }

  void at(Optional<String> pointKey) {
    point = pointKey;
  }

  Incident entry(IncidentKind kind, String text) {
    return new Incident(kind, point, text, time.now(), elapsed());
  }

  void incident(IncidentKind kind, String text) {
    Incident incident = entry(kind, text);
    writer.incident(incident);
    tell(o -> o.incident(incident));
  }

  Point commit(Point taken, List<Reading> readings) {
    Point numbered = writer.commit(taken, readings, List.of());
    tell(o -> o.committed(numbered, readings));
    return numbered;
  }

  /** What observers are told. */
  interface News {
    void to(RunObserver observer);
  }

  /** Tells every observer; one that throws is noted, and not told again. */
  void tell(News news) {
    List<RunObserver> broken = new ArrayList<>();
    for (RunObserver observer : observers) {
      try {
        news.to(observer);
      } catch (RuntimeException e) {
        broken.add(observer);
        writer.incident(
            entry(
                IncidentKind.CAUTION,
                "an observer (%s) failed and is not told any more: %s"
                    .formatted(observer.getClass().getSimpleName(), e.getMessage())));
      }
    }
    observers.removeAll(broken);
  }
}
