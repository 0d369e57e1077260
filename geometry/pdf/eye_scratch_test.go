package pdf_test
import ("testing";"os";"path/filepath";"knifedesk/geometry";"knifedesk/geometry/svg";"knifedesk/geometry/pdf")
func TestEye(t *testing.T){
 fs,_:=filepath.Glob("/work/shared/reference/drawings/pdf/own__*.pdf")
 for _,n:=range fs{ d,err:=read(n,pdf.Options{}); if err!=nil{continue}
  k:=d.Unit.MM
  doc:=svg.Document{Width:d.Page.Width()*k,Height:d.Page.Height()*k}
  for _,s:=range d.Shapes { l:=svg.Layer{StrokeWidth:1}
   for _,p:=range s.Paths{l.Paths=append(l.Paths,p.Transform(geometry.Scale(k,k)))}; doc.Layers=append(doc.Layers,l)}
  f,_:=os.Create("/tmp/kd/svgpdf/eyepdf/"+filepath.Base(n)+".svg"); svg.Write(f,doc); f.Close() } }
