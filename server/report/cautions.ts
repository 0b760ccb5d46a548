/** At the foot of every page that speaks of work: defers to label, law and licence; no dose stands anywhere. */
export const cautions =
  '<p>Knives: cut away from yourself, clean the blade between plants. Heaters in closed frames can burn; those with a flame give off carbon monoxide, which nobody smells and which kills: vent them. Sprays, rooting and wound products: the product’s label and your local rules hold; where a licence is asked, its holder does the work. Moving plants and wood may fall under plant-health rules, plant passports and protected varieties: ask your local service.</p>';
