// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import millrace.fault.MillraceException;
import millrace.logbook.BatchJudgedValue;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import millrace.quantity.NumberText;
import millrace.time.BackgroundThreads;

/**
 * What other benches published of the batch that is tested, read from their store. It is read in a
 * thread of its own, and what was read last counts: a bench never waits for a network. Used by the
 * thread that tests; close it.
 */
public final class BatchElsewhere implements AutoCloseable {
  /** How long the store may take to answer before it counts as away, s. */
  private static final int PATIENCE_S = 30;

  private final Optional<StoreAddress> store;
  private final String batch;
  private final ExecutorService reading =
      Executors.newSingleThreadExecutor(BackgroundThreads.named("millrace-batch"));
  private volatile Known known = new Known(State.ASKED, List.of(), "");
  private Optional<Future<?>> asked = Optional.empty();
  private Optional<State> told = Optional.empty();

  private enum State {
    ASKED,
    HERE,
    AWAY
  }

  /**
   * What is known.
   *
   * @param values as they were read last
   * @param trouble why the store did not answer, a sentence; empty text if it did
   */
  private record Known(State state, List<BatchJudgedValue> values, String trouble) {
    long units() {
      return values.stream().map(BatchJudgedValue::unit).distinct().count();
    }
  }

  private BatchElsewhere(Optional<StoreAddress> store, String batch) {
    this.store = store.map(s -> s.within(PATIENCE_S));
    this.batch = batch;
  }

  /**
   * A batch of which other benches may know; their store is asked for the first time now.
   *
   * @param store where they publish to; empty if the batch is tested on this bench alone
   * @param batch its name
   * @return what is known of it there
   */
  public static BatchElsewhere of(Optional<StoreAddress> store, String batch) {
    BatchElsewhere made = new BatchElsewhere(store, batch);
    made.refresh();
    return made;
  }

  /** Has the store asked again, unless its last answer is still awaited; returns at once. */
  void refresh() {
    if (store.isPresent() && asked.map(Future::isDone).orElse(true)) {
      asked = Optional.of(reading.submit(() -> read(store.get())));
    }
  }

  private void read(StoreAddress from) {
    Known before = known;
    Known now = new Known(State.AWAY, before.values(), "Its answer was not understood.");
    try {
      now = new Known(State.HERE, SharedStore.batch(from, batch), "");
    } catch (MillraceException e) {
      now = new Known(State.AWAY, before.values(), e.getMessage());
    } finally {
      known = now;
    }
  }

  /** The judged values of the batch as the store answered last; empty before its first answer. */
  List<BatchJudgedValue> values() {
    return known.values();
  }

  /** What has to be said with each board; empty while the store answers. */
  List<String> reminder() {
    return known.state() == State.AWAY
        ? List.of("The store does not answer: held against what was known of the batch before.")
        : List.of();
  }

  /**
   * What changed between this bench and the store since this was asked last.
   *
   * @return sentences; empty if nothing changed
   */
  List<String> news() {
    Known now = known;
    if (store.isEmpty() || told.equals(Optional.of(now.state()))) {
      return List.of();
    }
    told = Optional.of(now.state());
    List<String> lines = new ArrayList<>();
    switch (now.state()) {
      case ASKED -> {
        lines.add("The store has not answered yet. Testing does not wait for it.");
        lines.add("Until it does, each board is held against those of this bench alone.");
      }
      case HERE ->
          lines.add(
              "The store has %s of batch %s. Each board is held against them too."
                  .formatted(NumberText.counted(now.units(), "tested unit"), batch));
      case AWAY -> {
        lines.add(now.trouble());
        lines.add(
            "Testing goes on. Each board is held against those of this bench%s. The store is asked"
                    .formatted(
                        now.values().isEmpty()
                            ? ""
                            : " and the %s that the store had before"
                                .formatted(NumberText.counted(now.units(), "unit")))
                + " again with each board.");
      }
    }
    return lines;
  }

  @Override
  public void close() {
    reading.shutdownNow();
  }
}
