package soakbench.live;

class MemoryStoreTest extends SoakStoreContract {
  private final MemoryStore store = new MemoryStore();

  @Override
  protected SoakStore store() {
    return store;
  }
}
