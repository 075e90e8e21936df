// The room in 3-D, in ink: paper faces, ink edges, no light. Loaded when it is first looked at.
import {
  Box3,
  Color,
  EdgesGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  type Object3D,
  OrthographicCamera,
  Raycaster,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/addons/controls/OrbitControls.js'
import { GLTFLoader } from 'three/addons/loaders/GLTFLoader.js'

/** What is said of a thing that was pressed: its role path, and what the program says of it. */
export interface Told {
  path: string
  says: [string, string][]
}

/** How a leaf moves when it is opened; told by the program as words beside its node. */
interface Leaf {
  opened: () => void
  shut: () => void
}

const DOOR_OPEN = (100 * Math.PI) / 180
/** How much of its own size a part goes off from the middle of its unit for each step of taking apart. */
const APART = 0.6
const STEPS_APART = 3

function ink(name: string): Color {
  return new Color(getComputedStyle(document.documentElement).getPropertyValue(name).trim() || '#000')
}

/** A scene in a canvas. */
export class Room3d {
  private readonly scene = new Scene()
  private readonly camera = new OrthographicCamera()
  private readonly renderer: WebGLRenderer
  private readonly orbit: OrbitControls
  private readonly paper = new MeshBasicMaterial({ polygonOffset: true, polygonOffsetFactor: 0.25, polygonOffsetUnits: 1 })
  private readonly pointed = new MeshBasicMaterial({ polygonOffset: true, polygonOffsetFactor: 0.25, polygonOffsetUnits: 1 })
  private readonly pen = new LineBasicMaterial()
  private leaves: Leaf[] = []
  private room: Object3D | null = null
  private homes = new Map<Object3D, Vector3>()
  private chosen: Mesh[] = []
  private apart = 0

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true })
    this.renderer.setPixelRatio(window.devicePixelRatio)
    this.orbit = new OrbitControls(this.camera, canvas)
    this.orbit.addEventListener('change', () => this.draw())
    this.colour()
  }

  /** Takes the page's colours, after it went light or dark. */
  colour(): void {
    this.scene.background = ink('--paper')
    this.paper.color = ink('--slip')
    this.pointed.color = ink('--wash')
    this.pen.color = ink('--ink')
    this.draw()
  }

  async load(address: string): Promise<void> {
    const gltf = await new GLTFLoader().loadAsync(address)
    if (this.room) this.forget(this.room)
    const first = this.room === null
    this.chosen = []
    this.homes.clear()
    this.apart = 0
    this.room = gltf.scene
    this.scene.add(gltf.scene)
    const meshes: Mesh[] = []
    gltf.scene.traverse((node) => {
      if (node instanceof Mesh) meshes.push(node)
    })
    for (const mesh of meshes) {
      mesh.material = this.paper
      const edges = new LineSegments(new EdgesGeometry(mesh.geometry, 20), this.pen)
      edges.raycast = () => undefined
      mesh.add(edges)
    }
    gltf.scene.updateMatrixWorld(true)
    const moving: Object3D[] = []
    gltf.scene.traverse((node) => {
      if (node.userData['opens'] !== undefined) moving.push(node)
    })
    this.leaves = moving.map(leafOf).filter((leaf) => leaf !== null)
    if (first) this.stand()
    this.draw()
  }

  /** Takes a room out; what the graphics card holds of it is not given back by itself. */
  private forget(room: Object3D): void {
    this.scene.remove(room)
    room.traverse((node) => {
      if (node instanceof Mesh || node instanceof LineSegments) node.geometry.dispose()
    })
  }

  /** Stands where the whole room is seen, from above the first corner. */
  private stand(): void {
    if (!this.room) return
    const box = new Box3().setFromObject(this.room)
    const middle = box.getCenter(new Vector3())
    const size = box.getSize(new Vector3()).length()
    this.camera.position.copy(middle).add(new Vector3(1, 0.9, 1).multiplyScalar(size))
    this.camera.near = 0.01
    this.camera.far = size * 4
    this.orbit.target.copy(middle)
    this.camera.zoom = 1
    this.size()
    this.orbit.update()
  }

  /** Takes the size of its canvas. */
  size(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas
    if (width === 0 || height === 0) return
    this.renderer.setSize(width, height, false)
    const reach = this.room ? new Box3().setFromObject(this.room).getSize(new Vector3()).length() / 1.7 : 1
    const aspect = width / height
    this.camera.left = -reach * Math.max(aspect, 1) * 0.75
    this.camera.right = -this.camera.left
    this.camera.top = this.camera.right / aspect
    this.camera.bottom = -this.camera.top
    this.camera.updateProjectionMatrix()
    this.draw()
  }

  turn(by: number, tilt: number): void {
    const from = this.camera.position.clone().sub(this.orbit.target)
    from.applyAxisAngle(new Vector3(0, 1, 0), by)
    const side = new Vector3().crossVectors(from, new Vector3(0, 1, 0)).normalize()
    const tilted = from.clone().applyAxisAngle(side, tilt)
    // neither over the top nor under the floor
    if (tilted.angleTo(new Vector3(0, 1, 0)) > 0.05 && tilted.y > 0) from.copy(tilted)
    this.camera.position.copy(this.orbit.target).add(from)
    this.orbit.update()
    this.draw()
  }

  nearer(by: number): void {
    this.camera.zoom = Math.min(Math.max(this.camera.zoom * by, 0.3), 12)
    this.camera.updateProjectionMatrix()
    this.draw()
  }

  openAll(open: boolean): void {
    for (const leaf of this.leaves) open ? leaf.opened() : leaf.shut()
    this.draw()
  }

  /** Takes every unit apart by one step more, and together again after the last. */
  takeApart(): void {
    if (!this.room) return
    this.apart = (this.apart + 1) % (STEPS_APART + 1)
    const root = this.room.children[0] ?? this.room
    for (const unit of root.children) {
      if (/^(wall|floor)/.test(unit.name)) continue
      const parts: Object3D[] = []
      unit.traverse((node) => {
        if (node instanceof Mesh && node !== unit) parts.push(node)
      })
      const middle = new Box3().setFromObject(unit).getCenter(new Vector3())
      for (const part of parts) {
        const home = this.homes.get(part) ?? part.position.clone()
        this.homes.set(part, home)
        part.position.copy(home)
        part.updateMatrixWorld(true)
        const off = new Box3().setFromObject(part).getCenter(new Vector3()).sub(middle).multiplyScalar(APART * this.apart)
        const parent = part.parent ?? unit
        const to = parent.worldToLocal(part.getWorldPosition(new Vector3()).add(off))
        part.position.copy(to)
      }
    }
    this.draw()
  }

  /** What lies under a place of the canvas, in its pixels. */
  at(x: number, y: number): Told | null {
    const { clientWidth: width, clientHeight: height } = this.canvas
    const ray = new Raycaster()
    ray.setFromCamera(new Vector2((x / width) * 2 - 1, 1 - (y / height) * 2), this.camera)
    const hit = ray.intersectObjects(this.scene.children, true).find((one) => one.object instanceof Mesh)
    return hit ? this.tell(hit.object) : null
  }

  private tell(node: Object3D): Told {
    for (const mesh of this.chosen) mesh.material = this.paper
    this.chosen = node instanceof Mesh ? [node] : []
    for (const mesh of this.chosen) mesh.material = this.pointed
    this.draw()
    const data = node.userData as Record<string, unknown>
    const says = Object.entries(data).filter((one): one is [string, string] => typeof one[1] === 'string' && one[0] !== 'name')
    return { path: String(data['name'] ?? node.name), says }
  }

  draw(): void {
    this.renderer.render(this.scene, this.camera)
  }

  end(): void {
    this.orbit.dispose()
    this.renderer.dispose()
  }
}

/** A door turns about its hinge side, a drawer comes out to the front. The unit's front is where y is least. */
function leafOf(node: Object3D): Leaf | null {
  const opens = String(node.userData['opens'])
  const box = new Box3()
  // the box in the axes of the node's parent, where x goes to the right and y from front to back
  const parent = node.parent
  if (!parent) return null
  const turn = new Group()
  const inverse = parent.matrixWorld.clone().invert()
  node.traverse((one) => {
    if (!(one instanceof Mesh)) return
    const mesh: Mesh = one
    mesh.geometry.computeBoundingBox()
    const own = mesh.geometry.boundingBox
    if (own) box.union(own.clone().applyMatrix4(mesh.matrixWorld.clone().premultiply(inverse)))
  })
  const depth = box.max.y - box.min.y
  const pivot = new Vector3(opens === 'right' ? box.max.x : box.min.x, box.max.y, box.min.z)
  turn.position.copy(pivot)
  parent.add(turn)
  turn.attach(node)
  const angle = opens === 'left' ? -DOOR_OPEN : opens === 'right' ? DOOR_OPEN : 0
  return {
    opened: () => {
      if (angle !== 0) turn.rotation.z = angle
      else turn.position.y = pivot.y - depth * 0.85
    },
    shut: () => {
      turn.rotation.z = 0
      turn.position.y = pivot.y
    },
  }
}
