// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.RejectedExecutionException;
import millrace.assessment.Assessor;
import millrace.fault.MillraceException;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.time.BackgroundThreads;

/** The runs viewed recently. Thread-safe. */
public final class LiveRuns implements AutoCloseable {
  private static final int MOST = 16;

  private final LogbookPlace logbook;
  private final String pageToken;
  private final OwnFaults faults;
  private final ExecutorService assessing =
      Executors.newSingleThreadExecutor(BackgroundThreads.named("millrace-watch-assess"));
  private final Map<Long, LiveRun> runs =
      new LinkedHashMap<>(32, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Long, LiveRun> eldest) {
          return size() > MOST;
        }
      };

  /**
   * The runs of a logbook.
   *
   * @param logbook where they are
   * @param pageToken the token that changes must carry; empty text in read-only mode
   * @param faults takes what fails by a fault of ours
   */
  public LiveRuns(LogbookPlace logbook, String pageToken, OwnFaults faults) {
    this.logbook = logbook;
    this.pageToken = pageToken;
    this.faults = faults;
  }

  /**
   * A run.
   *
   * @param id its number, which exists in the logbook
   * @return the run
   */
  public synchronized LiveRun of(long id) {
    return runs.computeIfAbsent(
        id,
        n ->
            new LiveRun(
                logbook, n, pageToken, new LiveRun.Assessing(assessing, Assessor::assess, faults)));
  }

  /** Draws the newest run in the background, so that the first who opens a page does not wait. */
  public void prepare() {
    assessing.execute(
        () -> {
          try (Logbook book = logbook.readOnly()) {
            List<RunSummary> all = book.runs(RunFilter.ALL);
            if (!all.isEmpty()) {
              of(all.get(all.size() - 1).id()).shown();
            }
          } catch (MillraceException notNow) {
            // whoever opens a page is told
          } catch (RejectedExecutionException ended) {
            // the pages were closed meanwhile
          } catch (RuntimeException | Error ours) {
            faults.add(ours);
          }
        });
  }

  @Override
  public void close() {
    assessing.shutdownNow();
  }
}
