use reckon::stages::flow::*;
fn main(){
  for name in ["dunlin","tansley","wenna"] {
    let text=std::fs::read_to_string(format!("boats/{name}/boat.toml")).unwrap();
    let read=boat::read(&text);
    let b=&read.boat;
    for arr in [None,Some("after"),Some("fallback")] {
      let t=std::time::Instant::now();
      let Some(f)=reckon::flow(b,arr) else {println!("{name} {arr:?}: none");continue};
      println!("== {name} {arr:?} {:?}", t.elapsed());
      for m in &f.row.missing { println!("  missing {} [{}]", m.why, m.settles.place); }
      for s in &f.row.states {
        match &s.came { Came::Steady(g)=>{
          println!("  {} {:?} rpm {:.0} sea {:.0} P {:.1}kW heat {:.1}..{:.1}..{:.1} {} | flow {:.1} cooled {:.1} L/min out {:.1} {:.1} {:.1} back {:.1} lift {:?} reserve {:?} suction {:.1}kPa stolen {:?}", s.key,s.duty,s.revs*60.0/ (1.0),s.sea,s.power/1e3,s.heat.low/1e3,s.heat.mid/1e3,s.heat.high/1e3,s.heat_from,g.flow*6e4,g.cooled*6e4,g.out.low,g.out.mid,g.out.high,g.back.mid,g.lift,g.reserve,g.suction/1e3,g.stolen);
          for c in &g.coolers { println!("     {} {:.1}kW UA {:.0} area {:?} Re {:?} films {:?} shares {:?} T {:?}",c.subject,c.heat/1e3,c.ua,c.area,c.reynolds,c.films,c.shares,c.temperatures); }
          if arr==Some("after") && s.key.contains("cruise") { for i in &g.items { println!("       {:30} {:7.1} L/min {:8.2} kPa {:?} v {:?}", i.subject,i.flow*6e4,i.drop/1e3,i.temperatures,i.speed);} for p in &g.places { println!("       @{:20} h {:.2} open {:.1} T {:.1}", p.name,p.height,p.open/1e3,p.temperature);} }
        }, other=>println!("  {} {:?}: {other:?}", s.key,s.duty)}
      }
      for h in &f.row.hull { println!("  hull {} depth {:.2} sea {:.1} stopped {:.1} {:?} turns {:?}", h.subject,h.depth,h.sea/1e3,h.stopped/1e3,h.states.iter().map(|(k,r,p)|format!("{k} {:.0} {:.1}",r*60.0,p/1e3)).collect::<Vec<_>>(),h.turns.map(|t|t*60.0)); }
      for m in &f.row.most { println!("  most {} limit {:?} sea {:?} power {:?} smallest {:?}", m.key,m.limit,m.sea,m.power,m.smallest); }
      for a in &f.row.areas { println!("  area {:?}", a); }
      if let Some(v)=&f.row.volume { println!("  vol whole {:?} growth {:?} room {:?} air {:?} missing {:?}", v.whole,v.growth,v.room,v.air,v.missing.iter().map(|m|m.why.clone()).collect::<Vec<_>>()); }
      for a in &f.row.assumed { println!("  assumed {}: {} [{}]", a.what,a.value.metric,a.source); }
      for n in &f.row.notes { println!("  note {}", n.metric); }
      for v in &f.verdicts { println!("  {:?} {} : {} -> {}", v.grade, v.id, v.because.metric, v.remedy.metric); }
    }
  }
}
