// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ThreadFactory;
import org.junit.jupiter.api.Test;

class BackgroundThreadsTest {
  @Test
  void noneKeepsTheProcessFromEndingAndEachHasAName() {
    ThreadFactory pool = BackgroundThreads.named("work");
    Thread first = pool.newThread(() -> {});
    Thread second = pool.newThread(() -> {});
    assertEquals("work-1", first.getName());
    assertEquals("work-2", second.getName());
    assertTrue(first.isDaemon() && second.isDaemon());
    assertTrue(BackgroundThreads.of("alone", () -> {}).isDaemon());
  }

  @Test
  void whatAnotherThreadThrewIsThrownAsItWas() {
    IllegalArgumentException fault = new IllegalArgumentException("3 V is no current");
    CompletableFuture<Object> work =
        CompletableFuture.supplyAsync(
            () -> {
              throw fault;
            });
    assertSame(
        fault, BackgroundThreads.thrown(assertThrows(CompletionException.class, work::join)));
    assertSame(fault, BackgroundThreads.thrown(assertThrows(ExecutionException.class, work::get)));
  }

  @Test
  void errorsAreNoExceptionsAndACheckedOneIsTold() {
    StackOverflowError error = new StackOverflowError();
    assertSame(
        error,
        assertThrows(
            StackOverflowError.class,
            () -> BackgroundThreads.thrown(new CompletionException(error))));
    IOException checked = new IOException("no disk");
    assertSame(checked, BackgroundThreads.thrown(new ExecutionException(checked)).getCause());
  }
}
