// Online tiles, where the pilot asked for them, over the offline base and under everything else.

export class OnlineTiles {
  constructor(map, given) {
    Object.assign(this, { map, layer: null });
    if (!given) return;
    map.createPane("tiles").style.zIndex = 210;
    this.layer = L.tileLayer(given.url, { pane: "tiles", maxZoom: map.getMaxZoom(), noWrap: false });
    const Credit = L.Control.extend({
      onAdd() {
        const said = L.DomUtil.create("div", "tiles-credit");
        said.textContent = given.attribution;
        return said;
      },
    });
    this.credit = new Credit({ position: "bottomright" });
  }

  show(on) {
    if (!this.layer || on === this.map.hasLayer(this.layer)) return;
    if (on) {
      this.layer.addTo(this.map);
      this.credit.addTo(this.map);
    } else {
      this.layer.remove();
      this.credit.remove();
    }
  }
}
