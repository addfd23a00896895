package millrace.cli;

/** What a simulated bench saw that must never happen on a real one. */
final class Mishaps {
  private Mishaps() {}

  static void tell(Simulation simulation, Console console) {
    simulation
        .mishaps()
        .forEach(m -> console.error("CAUTION: the simulated bench was mistreated: " + m));
  }
}
