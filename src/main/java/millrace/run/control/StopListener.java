// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.time.Duration;
import millrace.time.BackgroundThreads;
import millrace.time.SystemClock;
import millrace.time.TimeSource;

/**
 * Listens for requests to stop the run, in a thread of its own and in real time, so that they act
 * whatever the run waits for: a reply, a soak, a person. Other requests are read by the run itself.
 */
public final class StopListener implements AutoCloseable {
  private static final Duration BETWEEN_LOOKS = Duration.ofMillis(200);

  private final NightRequests requests;
  private final StopRequest stop;
  private final TimeSource time = new SystemClock();
  private final Thread thread = BackgroundThreads.of("millrace-requests", this::listen);
  private volatile boolean over;

  /**
   * Listens for the runs of a night.
   *
   * @param requests to them
   * @param stop what is asked to stop
   */
  public StopListener(NightRequests requests, StopRequest stop) {
    this.requests = requests;
    this.stop = stop;
  }

  /** Begins to listen. */
  public void start() {
    thread.start();
  }

  private void listen() {
    try {
      while (!over) {
        if (requests.fresh().stream().anyMatch(a -> a.request() == RunRequestFile.Request.STOP)) {
          stop.stopFromElsewhere();
        }
        time.sleep(BETWEEN_LOOKS);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt(); // the run is over
    }
  }

  @Override
  public void close() {
    over = true;
    thread.interrupt();
  }
}
