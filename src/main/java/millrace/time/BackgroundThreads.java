// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ThreadFactory;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Threads beside the one of the command, by name, and what they threw. None of them keeps the
 * process from ending. Thread-safe.
 */
public final class BackgroundThreads {
  private static final ExecutorService ASIDE =
      Executors.newCachedThreadPool(named("millrace-aside"));

  private BackgroundThreads() {}

  /**
   * Threads for pieces of work beside the command's own, each taken again for the next piece. The
   * common pool of a machine with two processors would make a new one for each.
   *
   * @return never shut down; its threads end when they are idle
   */
  public static Executor aside() {
    return ASIDE;
  }

  /**
   * Makes a thread; the caller starts it.
   *
   * @param name how it stands in a listing of threads
   * @param task what it does
   * @return not started
   */
  public static Thread of(String name, Runnable task) {
    Thread thread = new Thread(task, name);
    thread.setDaemon(true);
    return thread;
  }

  /**
   * Makes the threads of a pool.
   *
   * @param name what their names begin with; their number follows, from 1
   * @return a factory
   */
  public static ThreadFactory named(String name) {
    AtomicInteger number = new AtomicInteger();
    return task -> of(name + "-" + number.incrementAndGet(), task);
  }

  /**
   * Waits for what another thread makes.
   *
   * @param future what it makes
   * @param <T> the type of it
   * @return it; what that thread threw is thrown as by {@link #thrown}
   */
  public static <T> T joined(CompletableFuture<T> future) {
    try {
      return future.join();
    } catch (CompletionException e) {
      throw thrown(e);
    }
  }

  /**
   * What another thread threw, to be thrown in this one as it was.
   *
   * @param wrapped around it, as a future tells it
   * @return the exception itself; an {@link IllegalStateException} around a checked one
   * @throws Error if that was thrown
   */
  public static RuntimeException thrown(Exception wrapped) {
    Throwable cause = wrapped.getCause();
    if (cause instanceof Error fault) {
      throw fault;
    }
    return cause instanceof RuntimeException known
        ? known
        : new IllegalStateException(cause == null ? wrapped : cause);
  }
}
