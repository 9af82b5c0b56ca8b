package record

import "testing"

func TestKindsBuild(t *testing.T) {
	for _, k := range Kinds() {
		if k.Title == "" || k.Doc == "" {
			t.Errorf("%s has no words", k.Name)
		}
		for _, f := range k.Fields {
			if f.Label == "" {
				t.Errorf("%s.%s has no label", k.Name, f.Key)
			}
			_ = f.Type()
		}
	}
}
