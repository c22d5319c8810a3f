package plan

import (
	"gloam/internal/document"
	"gloam/internal/fault"
)

// checkTruck tells what is on the truck and in no kit.
func (c *checker) checkTruck() {
	for i := range c.doc.Truck {
		name := c.doc.Truck[i].Name
		if _, ok := c.kit.Lamp(name); !ok {
			c.tell(document.Path("truck").Join(name), fault.Fault{Text: "the kit has no lamp of that name", Read: name,
				Hint: meantOf(name, c.kit.LampNames())})
		}
	}
}
