package soakbench.demo.simulation;

import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Room;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;

/** Makes one thing of a usual run strange. */
final class StrangeGenerator {
  private static final double SLOW_MASS_S = 2500;
  private static final double WIDE_ROOM_C = 3;
  private static final int HANDLED_EVERY_S = 300;

  private final Strange kind;
  private final Draw draw;

  StrangeGenerator(Strange kind, Draw draw) {
    this.kind = kind;
    this.draw = draw;
  }

  Heating heating(Heating usual) {
    return switch (kind) {
      case TWO_SLOW_MASSES -> usual.withSlowMass(SLOW_MASS_S);
      case ROOM_OF_3_C -> usual.in(wide(usual.room()));
      case BODY_OF_60_S -> usual.withBody(60);
      case BODY_OF_3000_S -> usual.withBody(3000);
      default -> usual;
    };
  }

  private Room wide(Room usual) {
    Room wide = Room.cycling(WIDE_ROOM_C / 2, draw);
    return new Room(wide.halfC(), wide.periodS(), wide.phase(), wide.shape(), usual.driftCPerS());
  }

  SimulatedUnit unit(SimulatedUnit usual) {
    return switch (kind) {
      case STEEP_0_1 -> UnitGenerator.steepest(usual, 0.1);
      case STEEP_0_2 -> UnitGenerator.steepest(usual, 0.2);
      case THERMOMETER_EVERY_10_S -> usual.withThermometer(usual.readout().thermometerStepC(), 10);
      default -> usual;
    };
  }

  /** Beside what happens in a usual run; what is drawn later finds these moments taken. */
  void events(EventsBuilder builder, double durationS) {
    if (kind == Strange.HANDLED) {
      for (int s = HANDLED_EVERY_S; s < durationS; s += HANDLED_EVERY_S) {
        builder.warmlyHandledAt(s + draw.uniform(0, 20), draw);
      }
    }
  }

  double rateHz(double usual) {
    return switch (kind) {
      case HALF_HZ -> 0.5;
      case TWO_HZ -> 2;
      default -> usual;
    };
  }
}
