// SPDX-License-Identifier: Apache-2.0
package millrace.watch.shift;

import java.util.Optional;
import java.util.function.Supplier;
import millrace.night.ProductionScreens;
import millrace.run.control.OperatorPrompt;
import millrace.run.production.OperatorScreen;
import millrace.run.production.OperatorStation;

/** The screens of a terminal together with a page: both show the same, and each takes scans. */
public final class ShiftStation implements OperatorStation, OperatorPrompt {
  private final ProductionScreens terminal;
  private final ShiftState page;

  /**
   * Creates a station.
   *
   * @param terminal the screens of the terminal
   * @param page the state that the page shows
   */
  public ShiftStation(ProductionScreens terminal, ShiftState page) {
    this.terminal = terminal;
    this.page = page;
  }

  @Override
  public Optional<String> scan(String prompt) {
    return asked(prompt, () -> terminal.scan(prompt));
  }

  @Override
  public String ask(String question) {
    return asked(question, () -> terminal.ask(question));
  }

  private <T> T asked(String question, Supplier<T> answer) {
    page.asks(question);
    try {
      return answer.get();
    } finally {
      page.answered();
    }
  }

  @Override
  public void whileWaiting(Runnable act) {
    terminal.whileWaiting(act);
  }

  @Override
  public void show(OperatorScreen screen) {
    page.show(screen);
    terminal.show(screen);
  }
}
